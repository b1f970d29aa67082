// Real toggle buttons over a drawing. Spots closer than a thumb keep their own small mark and share the room between them.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.svg, data.spots, data.ask])
  const S = (place._s ??= { seq: -1, chosen: [] })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = value => setStateValue("move", value)
  S.data = data
  if (newer(S, data)) S.chosen = [...data.chosen]
  show(S)
}
function build(place, S, { svg, spots, ask }) {
  const map = make("div", { class: "map", role: "group", "aria-label": ask }, drawing(svg))
  S.buttons = {}
  spots.forEach((spot, index) => {
    const button = make("button", { type: "button", class: "spot", style: `left:${Number(spot.x)}%;top:${Number(spot.y)}%` }, make("span", { class: "ring", "aria-hidden": "true" }))
    button.onclick = () => {
      if (S.data.locked) return
      S.chosen = S.chosen.includes(spot.id) ? S.chosen.filter(each => each !== spot.id) : [...S.chosen, spot.id]
      S.seq += 1
      show(S)
      S.send({ seq: S.seq, value: [...S.chosen] })
    }
    S.buttons[spot.id] = button
    map.append(button)
  })
  S.say = make("p", { class: "say", role: "status" })
  S.after = make("ul", { class: "after" })
  place.replaceChildren(map, S.say, S.after)
}
// What a place is has its own shape and word; whether it was found stands beside that, plainly.
const PLACES = { danger: ["wrong", "alarm"], fault: ["wrong", "alarm"], safe: ["right", "right"], sound: ["right", "right"] }
const FOUND = { right: "right", wrong: "wrong", missed: "open" }
const told = (verdict, words) => {
  if (!verdict.place) return [stamp(verdict.mark, words, verdict.said)]
  const [tone, path] = PLACES[verdict.place]
  const is = make("span", { class: `stamp ${tone}` }, shape(PATHS[path]), make("span", {}, words[`spot-${verdict.place}`]))
  const found = verdict.mark ? make("span", { class: "found" }, shape(PATHS[FOUND[verdict.mark]]), make("span", {}, saidOf(verdict, words))) : ""
  return [make("span", { class: "marks" }, is, " ", found)]
}
function show(S) {
  const { spots, verdicts, words, locked } = S.data
  const names = []
  S.after.replaceChildren()
  let number = 0
  for (const spot of spots) {
    const button = S.buttons[spot.id], on = S.chosen.includes(spot.id), verdict = verdicts[spot.id]
    button.setAttribute("aria-pressed", String(on))
    button.setAttribute("aria-disabled", String(locked))
    button.className = `spot${on ? " on" : ""}${verdict?.place ? ` at-${verdict.place}` : verdict?.mark ? ` is-${verdict.mark}` : ""}${locked ? " locked" : ""}`
    if (on) names.push(spot.label)
    const ring = button.firstChild
    ring.replaceChildren()
    button.setAttribute("aria-label", spot.label)
    if (!verdict) { if (on) ring.append(shape(PATHS.tapped)); continue }
    number += 1
    ring.append(verdict.place ? shape(PATHS[PLACES[verdict.place][1]]) : verdict.mark ? shape(PATHS[verdict.mark]) : "", make("b", {}, String(number)))
    const said = [words[`spot-${verdict.place}`], saidOf(verdict, words)].filter(Boolean).join(", ")
    button.setAttribute("aria-label", said ? `${spot.label}: ${said}` : spot.label)
    S.after.append(make("li", {}, make("span", { class: "number", "aria-hidden": "true" }, String(number)), make("span", { class: "line" }, make("strong", {}, spot.label), " ", ...told(verdict, words), verdict.why ? make("span", { class: "why" }, verdict.why) : "")))
  }
  S.after.hidden = number === 0
  S.say.textContent = names.length ? fill(words.pointed, { what: names.join(", ") }) : locked ? words["none-pointed"] : words.point
}
