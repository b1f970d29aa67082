// A drawing that is only looked at. One that moves runs in a loop; a button stops it and lets it go on. Who asked his
// system for less motion sees its still form until he presses the button; paper shows the still form.
export default function ({ parentElement, data }) {
  const place = room(parentElement), drawn = JSON.stringify([data.svg, data.alt])
  const leave = () => { place._motion?.leave(); place._drawn = null }
  if (place._drawn === drawn) return leave
  place._drawn = drawn
  place._motion?.leave()
  const svg = drawing(data.svg, data.alt)
  const figure = make("figure", { style: `max-width: ${Number(data.width)}px` }, svg)
  place._motion = svg.querySelector("[data-lasts]") ? moving(svg, figure, data.words) : null
  if (data.caption) figure.append(make("figcaption", {}, data.caption))
  place.replaceChildren(figure)
  if (!matchMedia("(prefers-reduced-motion: reduce)").matches) place._motion?.play()
  return leave
}
const PAUSE = "M5 4h5v16H5zM14 4h5v16h-5z", PLAY = "M6 3l15 9-15 9z"
// How a way begins and ends: the curves of trainer/pictures/motions.py.
const EASINGS = { falls: "cubic-bezier(.3333, 0, .6667, .3333)", slows: "cubic-bezier(.3333, .6667, .6667, 1)" }
function moving(svg, figure, words) {
  const duration = Number(svg.querySelector("[data-lasts]").getAttribute("data-lasts")) * 1000
  const label = make("span", {}, ""), button = make("button", { type: "button", class: "run" }, shape(PLAY), label)
  const motion = { running: [], isOn: false }
  const say = () => {
    button.firstChild.replaceWith(shape(motion.isOn ? PAUSE : PLAY))
    label.textContent = words[motion.isOn ? "pause" : "play"]
  }
  motion.play = () => {
    if (!motion.running.length) motion.running = started(svg, duration)
    motion.running.forEach(each => each.play())
    motion.isOn = true; say()
  }
  motion.pause = () => { motion.running.forEach(each => each.pause()); motion.isOn = false; say() }
  const still = () => { motion.running.forEach(each => each.cancel()); motion.running = [] }
  const paper = matchMedia("print"), less = matchMedia("(prefers-reduced-motion: reduce)")
  const printing = () => { if (paper.matches) still(); else if (motion.isOn) motion.play() }
  const calming = () => { if (less.matches) { still(); motion.isOn = false; say() } }
  paper.addEventListener("change", printing); less.addEventListener("change", calming)
  motion.leave = () => { still(); paper.removeEventListener("change", printing); less.removeEventListener("change", calming) }
  button.onclick = () => motion.isOn ? motion.pause() : motion.play()
  say()
  // Over the drawing: what stops it has to be in sight as soon as it is.
  figure.prepend(make("div", { class: "over" }, button))
  return motion
}
// Every animation of the drawing, all of one length, so that they keep together.
function started(svg, duration) {
  const timing = { duration, iterations: Infinity }, found = []
  for (const each of svg.querySelectorAll("[data-frames]")) found.push(each.animate(ways(each.getAttribute("data-frames")), timing))
  for (const each of svg.querySelectorAll("[data-seen]")) found.push(each.animate(glimpses(each.getAttribute("data-seen")), timing))
  return found
}
const ways = text => text.split(";").map(frame => {
  const [at, across, down, turn, way] = frame.trim().split(/\s+/)
  return { offset: at / 100, transform: `translate(${Number(across)}px, ${Number(down)}px) rotate(${Number(turn)}deg)`, easing: EASINGS[way] ?? "linear" }
})
const glimpses = text => {
  const [from, to] = text.split(" ").map(Number), steps = [[0, from > 0 ? 0 : 1], [from / 100, 1], [to / 100, to < 100 ? 0 : 1], [1, to < 100 ? 0 : 1]]
  return steps.map(([offset, opacity]) => ({ offset, opacity, easing: "steps(1, jump-end)" }))
}
