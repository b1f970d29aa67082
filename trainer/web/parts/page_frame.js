export default function ({ data }) {
  document.documentElement.lang = data.language
  document.documentElement.style.setProperty("--connection-lost", JSON.stringify(data.words["connection-lost"]))
}
