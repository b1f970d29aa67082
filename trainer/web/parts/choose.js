// Answer tiles: native radios or check boxes, each inside its label, so that the whole tile is the target.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.options, data.multiple, data.ask])
  const S = (place._s ??= { seq: -1, chosen: [] })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = value => setStateValue("move", value)
  S.locked = data.locked
  if (newer(S, data)) S.chosen = [...data.chosen]
  show(S, data)
}
let count = 0
function build(place, S, { options, multiple, ask }) {
  const group = `group-${++count}`
  const pictures = options.some(option => option.picture)
  const list = make("div", { role: multiple ? "group" : "radiogroup", "aria-label": ask, class: pictures ? "tiles pictures" : "tiles" })
  S.tiles = {}
  for (const option of options) {
    const input = make("input", { type: multiple ? "checkbox" : "radio", name: group, value: option.id, class: "dot" })
    const body = make("span", { class: "body" }, make("span", { class: "text", id: `${group}-${option.id}` }, option.text))
    const after = make("span", { class: "after", id: `${group}-${option.id}-after` })
    body.append(after)
    if (option.picture) body.prepend(drawing(option.picture, option.alt))
    input.setAttribute("aria-describedby", `${group}-${option.id}-after`)
    if (option.text) input.setAttribute("aria-labelledby", `${group}-${option.id}`)
    else input.setAttribute("aria-label", option.alt)
    input.onclick = event => { if (S.locked) event.preventDefault() }
    input.onchange = () => {
      if (S.locked) return
      S.chosen = [...list.querySelectorAll("input:checked")].map(each => each.value)
      S.seq += 1
      mark(S)
      S.send({ seq: S.seq, value: [...S.chosen] })
    }
    const tile = make("label", { class: "tile" }, input, body)
    S.tiles[option.id] = { tile, input, after }
    list.append(tile)
  }
  // A locked answer can still be read by keyboard, but arrows no longer change it.
  list.onkeydown = event => { if (S.locked && event.key.startsWith("Arrow")) event.preventDefault() }
  place.replaceChildren(list)
}
function mark(S) {
  for (const [id, { tile, input }] of Object.entries(S.tiles)) {
    input.checked = S.chosen.includes(id)
    tile.classList.toggle("on", input.checked)
  }
}
function show(S, { verdicts, words, locked }) {
  mark(S)
  for (const [id, { tile, input, after }] of Object.entries(S.tiles)) {
    const verdict = verdicts[id]
    tile.className = `tile${input.checked ? " on" : ""}${locked ? " locked" : ""}${verdict?.mark ? ` is-${verdict.mark}` : ""}`
    input.setAttribute("aria-disabled", locked ? "true" : "false")
    after.replaceChildren()
    if (verdict) after.append(stamp(verdict.mark, words, verdict.said), verdict.why ? make("span", { class: "why" }, verdict.why) : "")
  }
}
