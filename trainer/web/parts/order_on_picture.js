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
const letter = index => String.fromCharCode(65 + index)
function build(place, S, { svg, steps, ask }) {
  const map = make("div", { class: "map", role: "group", "aria-label": ask }, drawing(svg)), holders = {}
  S.buttons = {}; S.rows = {}
  S.list = make("ol", { "aria-label": ask })
  for (const step of steps) {
    const badge = make("span", { class: "badge", "aria-hidden": "true" })
    const button = make("button", { type: "button", class: "step" }, badge, make("span", { class: "text", "aria-hidden": "true" }, step.text))
    button.onclick = () => tap(S, step)
    const at = `${step.x} ${step.y}`
    if (!holders[at]) map.append(holders[at] = make("div", { class: "holder", style: `left:${Number(step.x)}%;top:${Number(step.y)}%` }))
    holders[at].append(button)
    const number = make("span", { class: "number", "aria-hidden": "true" }), after = make("span", { class: "after" })
    const row = make("li", {}, number, make("span", { class: "body" }, make("span", { class: "text" }, step.text), make("span", { class: "where" }, step.where), after))
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
  ;[...S.order, ...left].forEach((id, index) => {
    const place = steps.findIndex(step => step.id === id), step = steps[place], isOn = index < S.order.length
    const { button, badge } = S.buttons[id], { row, number, after } = S.rows[id], verdict = verdicts[id]
    const mark = verdict?.mark ? ` is-${verdict.mark}` : "", sign = isOn ? String(index + 1) : letter(place)
    const state = isOn ? fill(words["plan-number"], { place: index + 1 }) : words["plan-open"]
    button.className = `step${isOn ? " on" : ""}${mark}`
    button.setAttribute("aria-pressed", String(isOn))
    button.setAttribute("aria-disabled", String(locked))
    button.setAttribute("aria-label", [`${step.where}: ${step.text}`, state, verdict?.mark ? words[verdict.mark] : ""].filter(Boolean).join(", "))
    badge.textContent = number.textContent = sign
    if (S.list.children[index] !== row) S.list.insertBefore(row, S.list.children[index] ?? null)
    row.className = `${isOn ? "on" : ""}${mark}`
    after.replaceChildren()
    if (verdict) after.append(stamp(verdict.mark, words), verdict.why ? make("span", { class: "why" }, verdict.why) : "")
  })
}
