// One fieldset a step, five native radios drawn as tall segments; a note and the question about the act come when needed.
export default function ({ parentElement, data, setStateValue }) {
  const place = room(parentElement), drawn = JSON.stringify([data.steps, data.states])
  const S = (place._s ??= { seq: -1, ticked: {} })
  if (S.drawn !== drawn) { S.drawn = drawn; build(place, S, data) }
  S.send = value => setStateValue("move", value)
  S.data = data
  if (newer(S, data)) S.ticked = structuredClone(data.ticked)
  for (const step of data.steps) show(S, step)
}
const CRITICAL = "M8 1.5h8L22.5 8v8L16 22.5H8L1.5 16V8zM10.7 5.4h2.6v8h-2.6zM10.7 15.4h2.6v2.8h-2.6z"
function build(place, S, { steps, states, words, longest }) {
  S.rows = {}
  const list = make("div", { class: "sheet" })
  let group = ""
  for (const step of steps) {
    if (step.group && step.group !== group) list.append(make("h3", {}, (group = step.group)))
    list.append(row(S, step, states, words, longest))
  }
  place.replaceChildren(list)
}
function row(S, step, states, words, longest) {
  const legend = make("legend", {}, step.critical ? make("span", { class: "critical" }, shape(CRITICAL), words.critical) : "", make("span", { class: "text" }, step.text))
  const segments = make("div", { class: "segments" }), inputs = {}
  for (const state of states) {
    const input = make("input", { type: "radio", name: `state-${step.id}`, value: state.id })
    input.onchange = () => change(S, step, { state: state.id })
    input.onclick = event => { if (S.data.locked) event.preventDefault() }
    inputs[state.id] = input
    segments.append(make("label", { class: `segment tone-${state.tone}` }, input, shape(state.path), make("span", {}, state.word)))
  }
  const own = make("div", { class: "own", role: "radiogroup", "aria-label": words["own-act"] }, make("span", { class: "ask", "aria-hidden": "true" }, words["own-act"])), owns = {}
  for (const [value, word] of [[true, words["own-act-yes"]], [false, words["own-act-no"]]]) {
    const input = make("input", { type: "radio", name: `own-${step.id}` })
    input.onchange = () => change(S, step, { own_act: value })
    owns[value] = input
    own.append(make("label", { class: "segment small" }, input, make("span", {}, word)))
  }
  const note = make("textarea", { rows: "2", maxlength: longest })
  note.onchange = () => change(S, step, { note: note.value.trim() })
  const noteWord = make("span", {})
  const noted = make("label", { class: "note" }, noteWord, note)
  const after = make("p", { class: "after" })
  const box = make("fieldset", { class: step.critical ? "step is-critical" : "step" }, legend, segments, own, noted, after)
  S.rows[step.id] = { inputs, own, owns, note, noted, noteWord, after }
  return box
}
function change(S, step, part) {
  if (S.data.locked) return show(S, step)
  S.ticked[step.id] = { state: "", own_act: true, note: "", ...S.ticked[step.id], ...part }
  S.seq += 1
  show(S, step)
  S.send({ seq: S.seq, value: S.ticked })
}
function show(S, step) {
  const { inputs, own, owns, note, noted, noteWord, after } = S.rows[step.id], tick = S.ticked[step.id] ?? { state: "", own_act: true, note: "" }
  for (const [state, input] of Object.entries(inputs)) { input.checked = tick.state === state; input.setAttribute("aria-disabled", String(S.data.locked)) }
  own.hidden = !(S.data.noted && step.critical && tick.state === "not met")
  owns[true].checked = tick.own_act !== false; owns[false].checked = tick.own_act === false
  noted.hidden = !S.data.noted || !tick.state || tick.state === "met" || tick.state === "not observed"
  noteWord.textContent = tick.state === "not applicable" ? S.data.words["note-needed"] : S.data.words.note
  note.required = tick.state === "not applicable"
  note.readOnly = S.data.locked
  if (note !== note.getRootNode().activeElement) note.value = tick.note
  const verdict = S.data.verdicts[step.id]
  after.replaceChildren(...(verdict ? [stamp(verdict.mark, S.data.words), make("span", { class: "why" }, verdict.why)] : []))
}
