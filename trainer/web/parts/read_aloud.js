// Reads the page aloud with the browser's own voice: what is shown, from the top down, and nothing else. There is no
// button where the machine itself has no voice for the language: a voice from elsewhere would need the internet, and
// would tell it what is on the screen.
export default function ({ parentElement, data }) {
  const place = room(parentElement)
  const S = (place._s ??= build(place))
  S.language = data.language; S.words = data.words
  S.look()
  return S.leave
}
const SPEAKER = "M3 9h4l5-5v16l-5-5H3zM15.5 8.2a5 5 0 0 1 0 7.6l-1.3-1.5a3 3 0 0 0 0-4.6zM18.4 5.2a9 9 0 0 1 0 13.6l-1.3-1.5a7 7 0 0 0 0-10.6z", SQUARE = "M5 5h14v14H5z"
const voices = window.speechSynthesis
function build(place) {
  const before = make("span", { class: "unseen" }), label = make("span", {})
  const button = make("button", { type: "button", class: "read", hidden: true }, shape(SPEAKER), before, label)
  const S = { turn: 0, isOn: false, queue: [] }
  const show = () => {
    button.firstChild.replaceWith(shape(S.isOn ? SQUARE : SPEAKER))
    before.textContent = S.isOn ? `${S.words.read}: ` : ""
    label.textContent = S.words[S.isOn ? "stop" : "read"]
    button.setAttribute("aria-pressed", String(S.isOn))
  }
  // Where there is no button its place goes too: the line beside it is then as wide as the page.
  const frame = place.getRootNode().host?.closest("[data-testid=stElementContainer]")
  const clear = isEmpty => frame?.toggleAttribute("data-empty", isEmpty)
  S.look = () => { button.hidden = !voiceFor(S.language); clear(button.hidden); show() }
  S.stop = () => {
    if (!S.isOn) return
    S.turn += 1; S.isOn = false; S.queue = []
    voices.cancel()
    show()
  }
  S.start = () => {
    const voice = voiceFor(S.language), host = place.getRootNode().host ?? place
    const page = host.closest(".st-key-narrow, .st-key-wide") ?? document.body
    const turn = S.turn += 1, over = () => { if (turn === S.turn) S.stop() }
    voices.cancel()
    // Kept here as well: a browser that tidies up an utterance never says that it is over.
    S.queue = sentences(page).map(text => spoken(text, voice))
    if (!S.queue.length) return
    S.queue.at(-1).onend = over
    for (const each of S.queue) { each.onerror = over; voices.speak(each) }
    S.isOn = true
    show()
  }
  button.onclick = () => S.isOn ? S.stop() : S.start()
  const hide = () => { if (document.hidden) S.stop() }
  voices?.addEventListener?.("voiceschanged", S.look)
  document.addEventListener("visibilitychange", hide)
  window.addEventListener("pagehide", S.stop)
  S.leave = () => {
    S.stop()
    clear(false)
    voices?.removeEventListener?.("voiceschanged", S.look)
    document.removeEventListener("visibilitychange", hide)
    window.removeEventListener("pagehide", S.stop)
    place._s = null
  }
  place.replaceChildren(button)
  return S
}
function spoken(text, voice) {
  const each = new SpeechSynthesisUtterance(text)
  each.voice = voice; each.lang = voice.lang
  return each
}
// The machine's own voice for a language: the one that fits the browser's settings, else the first.
function voiceFor(language) {
  const fit = (voices?.getVoices() ?? []).filter(each => each.localService && each.lang.toLowerCase().split(/[-_]/)[0] === language)
  return fit.find(each => navigator.languages.includes(each.lang.replace("_", "-"))) ?? fit.find(each => each.default) ?? fit[0]
}
const UNSAID = "button, a, input, textarea, select, svg, style, script, [hidden], [aria-hidden=true], [role=alert], .unseen, [data-testid=stProgress], .st-key-top, .st-key-pages, .st-key-unsaid"
// The words that can be seen below an element, a sentence or two a piece, in the order of the page.
function sentences(top) {
  const said = []
  let piece = ""
  const close = () => { const text = piece.replace(/\s+/g, " ").trim(); if (/[\p{L}\p{N}]/u.test(text)) said.push(text); piece = "" }
  const walk = node => {
    if (node.nodeType === Node.TEXT_NODE) piece += node.data
    if (node.nodeType !== Node.ELEMENT_NODE || node.matches(UNSAID)) return
    const { display, visibility } = getComputedStyle(node)
    if (display === "none" || visibility === "hidden") return
    const isApart = display !== "inline" && display !== "contents"
    if (isApart) close()
    ;(node.shadowRoot ?? node).childNodes.forEach(walk)
    if (isApart) close()
  }
  walk(top)
  return said
}
