// A numbered list; each step has one button up and one down, and keeps the focus while it moves.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.steps, data.ask])
  const S = (place._s ??= { seq: -1, order: [] })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = value => setStateValue("move", value)
  S.data = data
  if (newer(S, data)) { S.order = [...data.order]; S.untouched = data.untouched }
  show(S)
}
const UP = "M12 5l9 9-2.6 2.6L12 10.2l-6.4 6.4L3 14z", DOWN = "M12 19l-9-9 2.6-2.6L12 13.8l6.4-6.4L21 10z"
function build(place, S, { steps, ask, words }) {
  S.list = make("ol", { "aria-label": ask })
  S.rows = {}
  for (const step of steps) {
    const number = make("span", { class: "number", "aria-hidden": "true" }), after = make("span", { class: "after" })
    const up = make("button", { type: "button" }, shape(UP)), down = make("button", { type: "button" }, shape(DOWN))
    up.onclick = () => move(S, step.id, -1, up); down.onclick = () => move(S, step.id, 1, down)
    const row = make("li", {}, number, make("span", { class: "body" }, make("span", { class: "text" }, step.text), after), make("span", { class: "keys" }, up, down))
    S.rows[step.id] = { row, number, after, up, down }
  }
  S.say = make("p", { class: "say unseen", role: "status" })
  S.same = make("button", { type: "button", class: "same" }, words["order-same"])
  S.same.onclick = () => leave(S)
  place.replaceChildren(S.list, S.same, S.say)
}
// The order that they came in may be the right one: whoever thinks so says so, since no tap at all is no answer.
function leave(S) {
  if (S.data.locked) return
  S.seq += 1
  S.untouched = false
  S.list.querySelector("button").focus({ preventScroll: true })
  show(S)
  S.say.textContent = S.data.words["order-left"]
  S.send({ seq: S.seq, value: [...S.order] })
}
function move(S, id, by, button) {
  const from = S.order.indexOf(id), to = from + by
  if (S.data.locked || to < 0 || to >= S.order.length) return
  S.order.splice(from, 1); S.order.splice(to, 0, id)
  S.seq += 1
  S.untouched = false
  show(S)
  button.focus({ preventScroll: true })
  S.say.textContent = fill(S.data.words["order-moved"], { what: S.data.steps.find(step => step.id === id).text, place: to + 1 })
  S.send({ seq: S.seq, value: [...S.order] })
}
function show(S) {
  const { steps, verdicts, words, locked } = S.data
  S.same.hidden = locked || !S.untouched
  S.order.forEach((id, index) => {
    const { row, number, after, up, down } = S.rows[id], text = steps.find(step => step.id === id).text, verdict = verdicts[id]
    if (S.list.children[index] !== row) S.list.insertBefore(row, S.list.children[index] ?? null)
    number.textContent = String(index + 1)
    row.className = verdict?.mark ? `is-${verdict.mark}` : ""
    up.hidden = down.hidden = locked
    up.setAttribute("aria-disabled", String(index === 0)); down.setAttribute("aria-disabled", String(index === S.order.length - 1))
    up.setAttribute("aria-label", fill(words["order-up"], { what: text })); down.setAttribute("aria-label", fill(words["order-down"], { what: text }))
    after.replaceChildren()
    if (verdict) after.append(stamp(verdict.mark, words, verdict.said), verdict.why ? make("span", { class: "why" }, verdict.why) : "")
  })
}
