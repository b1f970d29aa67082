export default function ({ parentElement, data }) {
  const S = (room(parentElement)._s ??= { turn: data.turn })
  if (S.turn !== data.turn) document.querySelector('[data-testid="stMain"]')?.scrollTo(0, 0)
  S.turn = data.turn
  document.documentElement.lang = data.language
  keep(data.kept)
  document.documentElement.style.setProperty("--connection-lost", JSON.stringify(data.words["connection-lost"]))
}
// No age while somebody has chosen: gone with the browser. An age of nought drops it.
function keep({ name, value }) {
  const age = value ? "" : "; Max-Age=0", line = location.protocol === "https:" ? "; Secure" : ""
  document.cookie = `${name}=${value}; Path=/; SameSite=Strict${age}${line}`
}
