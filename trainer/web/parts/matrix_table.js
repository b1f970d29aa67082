// A grid with real row and column headers: one tab stop, arrow keys, Home and End, Enter picks.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.columns, data.rows, data.levels, data.caption])
  const S = (place._s ??= { seq: 0 })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.seq = Math.max(S.seq, data.seq)
  S.send = (row, column) => { S.seq += 1; setStateValue("move", { seq: S.seq, value: [row, column] }) }
  S.body.querySelector("[aria-selected=true]")?.setAttribute("aria-selected", "false")
  if (data.picked) cellAt(S, data.rows.findIndex(row => row[0] === data.picked[0]), data.columns.findIndex(column => column.id === data.picked[1]))?.setAttribute("aria-selected", "true")
}
const cellAt = (S, row, column) => row < 0 || column < 0 ? null : S.body.rows[row]?.cells[column + 1]
function build(place, S, { caption, first, columns, rows, levels, words }) {
  const head = make("tr", {}, make("th", { scope: "col", class: "corner" }, first), ...columns.map(column => make("th", { scope: "col" }, make("span", {}, column.title))))
  S.body = make("tbody")
  for (const [id, name, note, cells] of rows) {
    const row = make("tr", {}, make("th", { scope: "row" }, make("span", { class: "name" }, name), note ? make("span", { class: "small" }, note) : ""))
    cells.forEach(([level, extra], column) => row.append(cell(levels[level], extra, id, columns[column].id, words)))
    S.body.append(row)
  }
  const table = make("table", { role: "grid", "aria-label": caption, "aria-rowcount": rows.length + 1 }, make("thead", {}, head), S.body)
  place.replaceChildren(make("div", { class: "box" }, table))
  move(S, columns.length, rows.length)
}
function cell(level, extra, row, column, words) {
  const attributes = { role: "gridcell", tabindex: "-1", "aria-selected": "false", "data-row": row, "data-column": column }
  if (!level) return make("td", { ...attributes, class: "none" }, make("span", { "aria-hidden": "true" }, "–"), make("span", { class: "unseen" }, words["not-needed"]))
  const line = make("span", { class: "word" }, shape(level.path), make("span", {}, level.word))
  return make("td", { ...attributes, class: `tone-${level.tone}` }, line, extra ? make("span", { class: "small" }, extra) : "")
}
function move(S, columns, rows) {
  let now = cellAt(S, 0, 0)
  if (now) now.tabIndex = 0
  const go = to => { if (!to) return; now.tabIndex = -1; now = to; now.tabIndex = 0; now.focus() }
  const pick = to => { if (to?.dataset.row) S.send(to.dataset.row, to.dataset.column) }
  S.body.onclick = event => { const to = event.target.closest("td"); if (to) { go(to); pick(to) } }
  S.body.onkeydown = event => {
    const row = now.parentElement.rowIndex - 1, column = now.cellIndex - 1, last = rows - 1, end = columns - 1
    const to = {
      ArrowRight: [row, Math.min(column + 1, end)], ArrowLeft: [row, Math.max(column - 1, 0)],
      ArrowDown: [Math.min(row + 1, last), column], ArrowUp: [Math.max(row - 1, 0), column],
      PageDown: [Math.min(row + 10, last), column], PageUp: [Math.max(row - 10, 0), column],
      Home: event.ctrlKey ? [0, 0] : [row, 0], End: event.ctrlKey ? [last, end] : [row, end],
    }[event.key]
    if (to) { event.preventDefault(); go(cellAt(S, ...to)) }
    else if (event.key === "Enter" || event.key === " ") { event.preventDefault(); pick(now) }
  }
}
