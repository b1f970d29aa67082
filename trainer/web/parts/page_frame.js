export default function ({ parentElement, data }) {
  const S = (room(parentElement)._s ??= { turn: data.turn })
  if (S.turn !== data.turn) document.querySelector('[data-testid="stMain"]')?.scrollTo(0, 0)
  S.turn = data.turn
  document.documentElement.lang = data.language
  document.documentElement.style.setProperty("--connection-lost", JSON.stringify(data.words["connection-lost"]))
}
