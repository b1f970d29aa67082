// A native slider a figure, with buttons for one step less or more; the figure in both units follows the thumb at once.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.dials, data.ask, data.words])
  const S = (place._s ??= { seq: -1, values: {} })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = () => { clearTimeout(S.later); S.later = 0; S.sent = performance.now(); S.seq += 1; setStateValue("move", { seq: S.seq, value: { ...S.values } }) }
  if (newer(S, data)) { S.values = { ...data.values }; for (const dial of data.dials) show(S, dial) }
}
const PAUSE = 120
function build(place, S, { dials, ask, words }) {
  S.rows = {}
  const list = make("div", { class: "dials", role: "group", "aria-label": ask })
  for (const dial of dials) {
    const input = make("input", { type: "range", id: `d-${dial.id}`, min: dial.low, max: dial.high, step: "any" })
    const told = make("output", { for: `d-${dial.id}`, class: "told" })
    input.oninput = () => turn(S, dial, onStep(dial, Number(input.value)))
    input.onchange = () => { if (S.later) S.send() }
    input.onkeydown = event => {
      const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key]
      const to = by ? stepped(S, dial, by) : { Home: dial.low, End: dial.high }[event.key]
      if (to !== undefined) { event.preventDefault(); turn(S, dial, to) }
    }
    const button = (sign, by, word) => {
      const made = make("button", { type: "button", class: "nudge", "aria-label": fill(word, { what: dial.label }) }, sign)
      made.onclick = () => turn(S, dial, stepped(S, dial, by))
      return made
    }
    const row = make("div", { class: "row" }, button("−", -1, words["dial-less"]), input, button("+", 1, words["dial-more"]))
    list.append(make("div", { class: "dial" }, make("div", { class: "line" }, make("label", { for: `d-${dial.id}` }, dial.label), told), row))
    S.rows[dial.id] = { input, told }
  }
  place.replaceChildren(list)
}
const within = (dial, value) => Math.min(Math.max(value, dial.low), dial.high)
const onStep = (dial, value) => within(dial, Number((Math.round(value / dial.step) * dial.step).toFixed(6)))
// From a site's own odd figure the first step leads to the next round one.
const stepped = (S, dial, by) => {
  const at = S.values[dial.id] / dial.step, near = by > 0 ? Math.floor(at + 1e-6) : Math.ceil(at - 1e-6)
  return onStep(dial, (near + by) * dial.step)
}
function turn(S, dial, value) {
  S.values[dial.id] = value
  show(S, dial)
  // The first turn goes out at once, those that follow while the thumb moves at most so often.
  const wait = (S.sent ?? -PAUSE) + PAUSE - performance.now()
  if (wait <= 0) S.send()
  else S.later ||= setTimeout(() => S.send(), wait)
}
const written = (value, decimals) => {
  const text = Math.abs(value).toFixed(decimals), [whole, rest] = text.split(".")
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole
  return (value < 0 && /[1-9]/.test(text) ? "−" : "") + grouped + (rest ? `.${rest}` : "")
}
function show(S, dial) {
  const { input, told } = S.rows[dial.id], value = S.values[dial.id]
  const first = `${written(value, dial.decimals)} ${dial.unit}`.trim()
  const other = dial.other ? `${written(value * dial.times, dial.other_decimals)} ${dial.other}` : ""
  input.value = value
  input.setAttribute("aria-valuetext", other ? `${first}, ${other}` : first)
  input.style.setProperty("--done", `${(100 * (value - dial.low)) / (dial.high - dial.low)}%`)
  told.replaceChildren(make("b", {}, first), other ? make("span", {}, other) : "")
}
