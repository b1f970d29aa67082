// Stands in for the machine's voices: `heard` is what was spoken, `heard.over()` ends it, `heard.come(voices)` brings them.
(() => {
  const synth = new EventTarget(), heard = window.heard = { said: [], cancelled: 0 }
  let there = window.voicesAtFirst ?? [{ lang: "en-US", localService: true }, { lang: "es_MX", localService: true }]
  heard.come = voices => { there = voices; synth.dispatchEvent(new Event("voiceschanged")) }
  heard.over = () => heard.said.at(-1).onend()
  Object.assign(synth, { getVoices: () => there, speak: each => heard.said.push(each), cancel: () => { heard.cancelled += 1 } })
  window.SpeechSynthesisUtterance = function (text) { this.text = text }
  Object.defineProperty(window, "speechSynthesis", { value: synth })
})()
