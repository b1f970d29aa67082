// A PIN field with keys under it. What is entered leaves the field when it is sent and is kept nowhere.
export default function ({ parentElement, data, setTriggerValue }) {
  const place = room(parentElement), S = (place._s ??= {})
  if (S.label !== data.label || S.plain !== data.plain) build(place, S, data)
  S.label = data.label; S.plain = data.plain
  S.send = () => {
    const typed = S.field.value
    if (!typed) { tell(S, fill(S.data.words["pin-empty"], { what: S.data.enter })); return S.field.focus() }
    S.field.value = ""
    count(S)
    setTriggerValue("said", typed)
  }
  S.data = data
  S.enter.textContent = data.enter
  tell(S, data.problem)
}
function build(place, S, { label, words, longest, plain }) {
  S.field = make("input", { type: plain ? "text" : "password", inputmode: "none", autocomplete: "off", autocapitalize: "characters", spellcheck: "false", maxlength: longest, "aria-label": label, class: "field", id: "field" })
  S.problem = make("p", { class: "problem", role: "alert" })
  S.count = make("p", { class: "unseen", role: "status" })
  const keys = make("div", { class: "keys", role: "group", "aria-label": words["pin-keys"] })
  const key = (text, press, extra = {}) => { const button = make("button", { type: "button", class: "key", ...extra }, text); button.onclick = press; keys.append(button); return button }
  const add = digit => { if (S.field.value.length < longest) { S.field.value += digit; count(S) } }
  for (const digit of "123456789") key(digit, () => add(digit))
  key("", () => { S.field.value = S.field.value.slice(0, -1); count(S) }, { "aria-label": words["pin-rub-out"], class: "key soft" }).append(shape("M8 4h14v16H8L1 12zM10.5 7.6l3.4 3.4 3.4-3.4 1.5 1.5-3.4 3.4 3.4 3.4-1.5 1.5-3.4-3.4-3.4 3.4-1.5-1.5 3.4-3.4-3.4-3.4z"))
  key("0", () => add("0"))
  S.enter = key("", () => S.send(), { class: "key enter" })
  S.field.oninput = () => count(S)
  S.field.onkeydown = event => { if (event.key === "Enter") { event.preventDefault(); S.send() } }
  S.field.onpaste = event => {
    event.preventDefault()
    S.field.value = (event.clipboardData.getData("text") || "").replace(/\s+/g, "").slice(0, longest)
    count(S)
  }
  place.replaceChildren(make("div", { class: "pad" }, make("label", { for: "field", class: "label" }, label), S.field, S.problem, S.count, keys))
}
const tell = (S, problem) => { S.problem.textContent = problem; S.problem.hidden = !problem }
const count = S => { S.count.textContent = fill(S.data.words["pin-digit-count"], { count: S.field.value.length }) }
