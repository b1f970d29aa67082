export default function ({ parentElement, data }) {
  const S = (room(parentElement)._s ??= { turn: data.turn })
  if (S.turn !== data.turn) document.querySelector('[data-testid="stMain"]')?.scrollTo(0, 0)
  S.turn = data.turn
  document.documentElement.lang = data.language
  keep(data.kept)
  // Streamlit's own link for the keyboard, which says English words on every page.
  const skip = document.querySelector('[data-testid="stSkipToContent"]')
  if (skip) skip.textContent = data.words["skip-bar"]
  document.documentElement.style.setProperty("--connection-lost", JSON.stringify(data.words["connection-lost"]))
  // Before the field itself, which keeps Enter to itself; one listener, however often this runs.
  document.removeEventListener("keydown", document.takeDay, true)
  document.addEventListener("keydown", document.takeDay = takeDay, true)
}
// A day that is written is taken once its calendar is closed, which Escape does: so do Enter and going on past the last number.
function takeDay({ key, shiftKey, target }) {
  const numbers = [...target.closest?.('[data-testid="stDateInput"]')?.querySelectorAll("[role=spinbutton]") ?? []]
  const isDone = key === "Enter" || key === "Tab" && !shiftKey && target === numbers.at(-1)
  if (isDone && numbers.includes(target)) target.dispatchEvent(new KeyboardEvent("keydown", { key: "Escape", bubbles: true, cancelable: true }))
}
// No age while somebody has chosen: gone with the browser. An age of nought drops it.
function keep({ name, value }) {
  const age = value ? "" : "; Max-Age=0", line = location.protocol === "https:" ? "; Secure" : ""
  document.cookie = `${name}=${value}; Path=/; SameSite=Strict${age}${line}`
}
