// Helpers that every part's script starts with. Words and names are put in as text, never as markup.
const make = (tag, attributes = {}, ...kids) => {
  const element = document.createElement(tag)
  for (const [name, value] of Object.entries(attributes)) {
    if (value === true) element.setAttribute(name, "")
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value)
  }
  element.append(...kids)
  return element
}
const SVG = "http://www.w3.org/2000/svg"
const shape = path => {
  const svg = document.createElementNS(SVG, "svg"), line = document.createElementNS(SVG, "path")
  svg.setAttribute("viewBox", "0 0 24 24"); svg.setAttribute("aria-hidden", "true"); svg.setAttribute("class", "shape")
  line.setAttribute("d", path); line.setAttribute("fill-rule", "evenodd"); svg.append(line)
  return svg
}
// Our own checked drawing as an element; with a name it is an image, without one decoration.
const drawing = (text, name = "") => {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement
  if (root.localName !== "svg") return make("span")
  const svg = document.importNode(root, true)
  if (name) { svg.setAttribute("role", "img"); svg.setAttribute("aria-label", name); svg.removeAttribute("aria-hidden") }
  else { svg.setAttribute("aria-hidden", "true"); svg.removeAttribute("role"); svg.removeAttribute("aria-label") }
  svg.setAttribute("class", "drawing")
  return svg
}
const fill = (text, values) => text.replace(/\{(\w+)\}/g, (all, name) => values[name] ?? all)
const PATHS = {
  right: "M9 20.4l-7-7 2.7-2.7L9 15 19.3 4.6 22 7.3z",
  wrong: "M5.6 2.9L12 9.3l6.4-6.4 2.7 2.7-6.4 6.4 6.4 6.4-2.7 2.7-6.4-6.4-6.4 6.4-2.7-2.7L9.3 12 2.9 5.6z",
  alarm: "M12 1.5L23.6 22H.4zM10.6 8.5l.5 7h1.8l.5-7zM10.8 17h2.4v2.4h-2.4z",
  open: "M12 3a9 9 0 1 0 0 18a9 9 0 1 0 0-18zM12 5.6a6.4 6.4 0 1 1 0 12.8a6.4 6.4 0 1 1 0-12.8z",
  tapped: "M12 5.5a6.5 6.5 0 1 0 0 13a6.5 6.5 0 1 0 0-13z",
  missed: "M12 2L23 21.5H1zM12 7.6L5.7 18.6h12.6zM11 10.6h2v4h-2zM11 15.6h2v1.8h-2z",
}
// Words of a verdict's mark, and its shape with words; nothing without a mark.
const saidOf = (verdict, words) => verdict?.mark ? verdict.said || words[verdict.mark] : ""
const stamp = (mark, words, said = "") => mark ? make("span", { class: `stamp ${mark}` }, shape(PATHS[mark]), make("span", {}, said || words[mark])) : ""
// One state a part, kept on its room between runs. Python's value wins unless a newer tap is still on its way.
const room = parentElement => parentElement.querySelector(".part")
const newer = (state, data) => { if (data.seq >= state.seq) { state.seq = data.seq; return true } return false }
