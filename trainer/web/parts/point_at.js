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
function show(S) {
  const { spots, verdicts, words, locked } = S.data
  const names = []
  S.after.replaceChildren()
  let number = 0
  for (const spot of spots) {
    const button = S.buttons[spot.id], on = S.chosen.includes(spot.id), verdict = verdicts[spot.id]
    button.setAttribute("aria-pressed", String(on))
    button.setAttribute("aria-disabled", String(locked))
    button.className = `spot${on ? " on" : ""}${verdict?.mark ? ` is-${verdict.mark}` : ""}${locked ? " locked" : ""}`
    if (on) names.push(spot.label)
    const ring = button.firstChild
    ring.replaceChildren()
    button.setAttribute("aria-label", spot.label)
    if (!verdict) { if (on) ring.append(shape(PATHS.right)); continue }
    number += 1
    ring.append(verdict.mark ? shape(PATHS[verdict.mark]) : "", make("b", {}, String(number)))
    button.setAttribute("aria-label", verdict.mark ? `${spot.label}: ${words[verdict.mark]}` : spot.label)
    S.after.append(make("li", {}, make("span", { class: "number", "aria-hidden": "true" }, String(number)), make("span", { class: "line" }, make("strong", {}, spot.label), " ", stamp(verdict.mark, words), verdict.why ? make("span", { class: "why" }, verdict.why) : "")))
  }
  S.after.hidden = number === 0
  S.say.textContent = names.length ? fill(words.pointed, { what: names.join(", ") }) : locked ? words["none-pointed"] : words.point
}
