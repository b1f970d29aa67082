// Each step is a button on the drawing, where it is done. A tap gives it the next number; another takes it back.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.svg, data.steps, data.ask])
  const S = (place._s ??= { seq: -1, order: [] })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = value => setStateValue("move", value)
  S.data = data
  if (newer(S, data)) S.order = [...data.order]
  show(S)
  if (!S.say.textContent || data.locked) S.say.textContent = data.locked ? "" : data.words["plan-start"]
}
// Where several share a place their letters stand above it, with a line down to it, or they would cover what they mark.
const LOWEST = 24
const isLifted = (step, steps) => Number(step.y) > LOWEST && steps.some(each => each !== step && each.x === step.x && each.y === step.y)
const holder = (step, steps) => make("div", { class: `holder${isLifted(step, steps) ? " lifted" : ""}`, style: `left:${Number(step.x)}%;top:${Number(step.y)}%` }, make("div", { class: "letters" }))
const letter = index => String.fromCharCode(65 + index)
function build(place, S, { svg, steps, ask }) {
  const map = make("div", { class: "map", role: "group", "aria-label": ask }, drawing(svg)), holders = {}
  S.buttons = {}; S.rows = {}
  S.list = make("ol", { "aria-label": ask })
  for (const step of steps) {
    const badge = make("span", { class: "badge", "aria-hidden": "true" })
    const button = make("button", { type: "button", class: "step" }, badge)
    button.onclick = () => tap(S, step)
    const at = `${step.x} ${step.y}`
    if (!holders[at]) map.append(holders[at] = holder(step, steps))
    holders[at].querySelector(".letters").append(button)
    const number = make("span", { class: "number", "aria-hidden": "true" }), after = make("span", { class: "after" })
    const row = make("li", {}, number, make("span", { class: "body" }, make("span", { class: "text" }, step.text), make("span", { class: "where" }, step.where), after))
    // The whole row is as good as its letter on the drawing, which is what keyboard and screen reader work.
    row.onclick = () => tap(S, step)
    S.buttons[step.id] = { button, badge }; S.rows[step.id] = { row, number, after }
  }
  S.say = make("p", { class: "say", role: "status" })
  place.replaceChildren(map, S.say, S.list)
}
function tap(S, step) {
  const { words, locked, steps } = S.data
  if (locked) return
  const was = S.order.includes(step.id)
  S.order = was ? S.order.filter(each => each !== step.id) : [...S.order, step.id]
  S.seq += 1
  show(S)
  const text = fill(words[was ? "plan-back" : "plan-taken"], { what: step.text, place: S.order.length })
  S.say.textContent = S.order.length === steps.length ? `${text} ${words["plan-all"]}` : text
  S.send({ seq: S.seq, value: [...S.order] })
}
function show(S) {
  const { steps, verdicts, words, locked } = S.data
  const left = steps.filter(step => !S.order.includes(step.id)).map(step => step.id)
  S.list.classList.toggle("locked", locked)
  // While they are tapped the rows stay where they are, or the next tap would fall on another; then they are sorted.
  const rows = locked ? [...S.order, ...left] : steps.map(step => step.id)
  rows.forEach((id, index) => {
    const place = steps.findIndex(step => step.id === id), step = steps[place], turn = S.order.indexOf(id), isOn = turn >= 0
    const { button, badge } = S.buttons[id], { row, number, after } = S.rows[id], verdict = verdicts[id]
    const mark = verdict?.mark ? ` is-${verdict.mark}` : "", sign = isOn ? String(turn + 1) : letter(place)
    const state = isOn ? fill(words["plan-number"], { place: turn + 1 }) : words["plan-open"]
    button.className = `step${isOn ? " on" : ""}${mark}`
    button.setAttribute("aria-pressed", String(isOn))
    button.setAttribute("aria-disabled", String(locked))
    button.setAttribute("aria-label", [`${step.where}: ${step.text}`, state, saidOf(verdict, words)].filter(Boolean).join(", "))
    badge.textContent = number.textContent = sign
    if (S.list.children[index] !== row) S.list.insertBefore(row, S.list.children[index] ?? null)
    row.className = `${isOn ? "on" : ""}${mark}`
    after.replaceChildren()
    if (verdict) after.append(stamp(verdict.mark, words, verdict.said), verdict.why ? make("span", { class: "why" }, verdict.why) : "")
  })
}
