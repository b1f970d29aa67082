// Pick a token, tap a spot. A spot holds several tokens, side by side; a token on a spot can be picked up again.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.svg, data.tokens, data.spots, data.ask])
  const S = (place._s ??= { seq: -1, placed: {}, held: null })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = value => setStateValue("move", value)
  S.data = data
  if (newer(S, data)) S.placed = Object.fromEntries(Object.entries(data.placed).map(([spot, there]) => [spot, [...there]]))
  if (data.locked) S.held = null
  show(S)
  if (!S.say.textContent || data.locked) tell(S, data.locked ? "" : data.words["place-start"])
}
const tell = (S, text) => { S.say.textContent = text }
const spotOf = (S, token) => Object.keys(S.placed).find(spot => S.placed[spot].includes(token))
const called = (list, id) => list.find(each => each.id === id).label
function build(place, S, { svg, tokens, spots, ask, words }) {
  S.map = make("div", { class: "map" }, drawing(svg))
  S.spots = {}; S.who = {}; S.there = {}
  for (const spot of spots) {
    const button = make("button", { type: "button", class: "spot" }, make("span", { class: "mark", "aria-hidden": "true" }))
    const holder = make("div", { class: "holder", style: `left:${Number(spot.x)}%;top:${Number(spot.y)}%` }, button)
    button.onclick = () => tapSpot(S, spot.id)
    S.spots[spot.id] = button; S.there[spot.id] = holder
    S.map.append(holder)
  }
  S.tray = make("div", { class: "tray", role: "group", "aria-label": words["place-tray"] })
  const people = [...new Set(tokens.map(token => token.person))]
  for (const token of tokens) {
    const button = make("button", { type: "button", class: `who look-${people.indexOf(token.person) % 4}` }, make("span", { class: "badge", "aria-hidden": "true" }, token.badge))
    if (token.side) button.append(make("span", { class: "side", "aria-hidden": "true" }, token.side))
    if (token.note.length) button.append(make("span", { class: "note", "aria-hidden": "true" }, ...token.note.map(line => make("span", {}, line))))
    button.onclick = () => tapToken(S, token.id)
    S.who[token.id] = button
  }
  S.say = make("p", { class: "say", role: "status" })
  S.after = make("ul", { class: "after" })
  const scene = S.scene = make("div", { role: "group", "aria-label": ask }, S.map, S.tray)
  scene.onkeydown = event => { if (event.key === "Escape" && S.held) { drop(S); event.preventDefault() } }
  place.replaceChildren(scene, S.say, S.after)
}
function drop(S) { S.held = null; tell(S, S.data.words["place-dropped"]); show(S) }
function tapToken(S, token) {
  if (S.data.locked) return
  if (S.held === token) return drop(S)
  const spot = spotOf(S, token)
  if (S.held && spot) return put(S, spot)
  S.held = token
  tell(S, fill(S.data.words["place-picked"], { what: called(S.data.tokens, token) }))
  show(S)
}
function tapSpot(S, spot) {
  if (S.data.locked) return
  if (S.held) return put(S, spot)
  const there = S.placed[spot] ?? []
  if (there.length) return tapToken(S, there[there.length - 1])
  tell(S, S.data.words["place-first"])
}
function put(S, spot) {
  const token = S.held, there = (S.placed[spot] ?? []).filter(each => each !== token)
  if (there.length >= S.data.at_most) return tell(S, fill(S.data.words["place-full"], { where: called(S.data.spots, spot) }))
  for (const each of Object.keys(S.placed)) S.placed[each] = S.placed[each].filter(other => other !== token)
  S.placed[spot] = [...there, token]
  S.held = null; S.seq += 1
  const left = S.data.tokens.filter(each => !spotOf(S, each.id)).length
  tell(S, `${fill(S.data.words["place-placed"], { what: called(S.data.tokens, token), where: called(S.data.spots, spot) })} ${left ? fill(S.data.words["place-left"], { count: left }) : S.data.words["place-all"]}`)
  const focused = S.who[token]
  show(S)
  focused.focus({ preventScroll: true })
  S.send({ seq: S.seq, value: Object.fromEntries(Object.entries(S.placed).filter(([, each]) => each.length)) })
}
function show(S) {
  const { tokens, spots, verdicts, words, locked } = S.data
  S.map.classList.toggle("picking", !!S.held)
  S.scene.classList.toggle("locked", locked)
  for (const token of tokens) {
    const button = S.who[token.id], spot = spotOf(S, token.id), home = spot ? S.there[spot] : S.tray
    if (button.parentElement !== home) home.append(button)
    button.setAttribute("aria-pressed", String(S.held === token.id))
    button.setAttribute("aria-disabled", String(locked))
    button.setAttribute("aria-label", [token.label, spot ? called(spots, spot) : words["place-waiting"], token.note.join(", ")].filter(Boolean).join(", "))
  }
  S.after.replaceChildren()
  for (const spot of spots) {
    const button = S.spots[spot.id], there = S.placed[spot.id] ?? [], verdict = verdicts[spot.id]
    S.there[spot.id].className = `holder${there.length ? " full" : ""}${verdict?.mark ? ` is-${verdict.mark}` : ""}`
    button.setAttribute("aria-label", [spot.label, there.length ? there.map(each => called(tokens, each)).join(", ") : words["place-empty"], saidOf(verdict, words)].filter(Boolean).join(", "))
    button.setAttribute("aria-disabled", String(locked))
    button.firstChild.replaceChildren(...(verdict?.mark ? [shape(PATHS[verdict.mark])] : []))
    if (verdict) S.after.append(make("li", {}, make("strong", {}, spot.label), " ", stamp(verdict.mark, words, verdict.said), verdict.why ? make("span", { class: "why" }, verdict.why) : ""))
  }
  S.after.hidden = !S.after.children.length
  S.tray.classList.toggle("empty", !S.tray.children.length)
}
