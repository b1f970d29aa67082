// A line chart drawn to the pixels that there are, so that its words keep their size; beside it, a string that moves.
export default function ({ parentElement, data }) {
  const place = room(parentElement), S = (place._s ??= { frame: -1 })
  S.data = data
  if (!S.stage || Boolean(S.moving) !== Boolean(data.moving)) build(place, S)
  if (data.moving && (S.frame < 0 || S.frame >= data.moving.times.length)) S.frame = data.moving.highest
  draw(S)
  S.eye ??= new ResizeObserver(() => { const now = S.box.clientWidth; if (now !== S.width) draw(S) })
  S.eye.observe(S.box)
  return () => { S.eye.disconnect(); cancelAnimationFrame(S.playing); S.playing = 0 }
}
const LASTS = 9000, TALL = 340, PICTURE = 120
const el = (tag, attributes = {}, ...kids) => {
  const made = document.createElementNS(SVG, tag)
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value)
  made.append(...kids)
  return made
}
function build(place, S) {
  const { moving, words } = S.data
  S.moving = moving
  S.box = make("div", { class: "box" })
  S.string = make("div", { class: "string" })
  S.stage = make("div", { class: moving ? "stage moves" : "stage" }, moving ? S.string : "", S.box)
  place.replaceChildren(S.stage)
  if (moving) place.append(controls(S, words))
}
function controls(S, words) {
  const button = (word, press) => { const made = make("button", { type: "button" }, word); made.onclick = press; return made }
  S.play = button(words.play, () => (S.playing ? pause(S) : run(S)))
  const to = name => () => { pause(S); at(S, name === "start" ? 0 : S.data.moving[name]) }
  const moments = [button(words["chart-start"], to("start")), button(words["chart-highest"], to("highest")), button(words["chart-lowest"], to("lowest"))]
  S.scrub = make("input", { type: "range", min: 0, step: 1, "aria-label": words["chart-moment"] })
  S.scrub.oninput = () => { pause(S); at(S, Number(S.scrub.value)) }
  S.told = make("p", { class: "told", role: "status" })
  return make("div", { class: "controls" }, S.told, S.scrub, make("div", { class: "buttons" }, S.play, ...moments))
}
function run(S) {
  const { times } = S.data.moving, from = S.frame >= times.length - 1 ? 0 : S.frame
  const begun = performance.now() - (from / (times.length - 1)) * LASTS
  // Who asked for less motion sees a row of stills instead, about one a second.
  const stills = matchMedia("(prefers-reduced-motion: reduce)").matches ? 12 : 1
  const next = now => {
    const last = S.data.moving.times.length - 1, frame = Math.min(Math.floor(((now - begun) / LASTS) * last), last)
    const shown = frame >= last ? last : Math.max(frame - (frame % stills), 0)
    if (shown !== S.frame) at(S, shown)
    if (frame >= last) return pause(S)
    S.playing = requestAnimationFrame(next)
  }
  S.playing = requestAnimationFrame(next)
  S.play.textContent = S.data.words.pause
}
function pause(S) {
  cancelAnimationFrame(S.playing)
  S.playing = 0
  S.play.textContent = S.data.words.play
  S.told.textContent = S.data.moving.told[S.frame]
}
function at(S, frame) {
  S.frame = frame
  const { times, told } = S.data.moving, x = S.x(times[frame])
  S.cursor.setAttribute("x1", x); S.cursor.setAttribute("x2", x)
  S.scrub.value = frame
  S.scrub.setAttribute("aria-valuetext", told[frame])
  // What changes thirty times a second is not read out.
  if (!S.playing) S.told.textContent = told[frame]
  string(S, frame)
}
function draw(S) {
  const { across, up, lines, limits, bands, here, alt, moving } = S.data
  S.width = S.box.clientWidth
  // Not laid out yet: the observer comes back when it is.
  if (S.width < 120) return
  const isNarrow = S.width < 400, far = isNarrow ? [] : up.far
  const widest = ticks => Math.max(0, ...ticks.map(([, text]) => text.length)) * 8.6 + 12
  const left = widest(up.ticks), right = far.length ? widest(far) : 14, top = 26, bottom = TALL - 52
  const x = (S.x = value => left + ((value - across.low) / (across.high - across.low)) * (S.width - left - right))
  const y = value => bottom - ((value - up.low) / (up.high - up.low)) * (bottom - top)
  const svg = el("svg", { viewBox: `0 0 ${S.width} ${TALL}`, width: S.width, height: TALL, role: "img", "aria-label": alt })
  const end = S.width - right
  const word = (text, place, more = {}) => el("text", { x: place[0], y: place[1], ...more }, text)
  for (const [value, text] of up.ticks) svg.append(el("path", { d: `M${left} ${y(value)}H${end}`, class: "grid" }), word(text, [left - 8, y(value) + 5], { class: "end" }))
  for (const [value, text] of far) svg.append(word(text, [end + 8, y(value) + 5], { class: "soft" }))
  svg.append(word(up.title, [left, 14], { class: "unit" }), word(far.length ? up.far_title : "", [end, 14], { class: "unit end" }))
  const room = (end - left) / Math.max(across.ticks.length, 1) < 46 ? 2 : 1
  across.ticks.forEach(([value, text], n) => { if (n % room === 0) svg.append(word(text, [x(value), bottom + 20], { class: "middle" })) })
  svg.append(word(across.title, [(left + end) / 2, bottom + 43], { class: "middle unit" }))
  for (const limit of limits) if (limit.shaded && y(limit.at) < bottom) svg.append(el("rect", { x: left, y: y(limit.at), width: end - left, height: bottom - y(limit.at), class: `shade ${limit.tone}` }))
  for (const band of bands) svg.append(
    el("rect", { x: x(band.low), y: top, width: x(band.high) - x(band.low), height: bottom - top, class: `shade ${band.tone}` }),
    word(band.name, [(x(band.low) + x(band.high)) / 2, top + 18], { class: "name middle" }))
  for (const line of lines) svg.append(...drawn(line, x, y))
  named(svg, limits, x, y, left, end)
  if (here) svg.append(el("circle", { cx: x(here[0]), cy: y(here[1]), r: 8, class: "here" }))
  if (moving) svg.append((S.cursor = el("line", { y1: top, y2: bottom, class: "cursor" })))
  S.box.replaceChildren(svg)
  if (moving) { S.scrub.max = moving.times.length - 1; at(S, S.frame) }
}
function drawn({ points, tone, doubtful }, x, y) {
  const path = (some, extra) => el("path", { d: "M" + some.map(([a, b]) => `${x(a).toFixed(1)} ${y(b).toFixed(1)}`).join("L"), class: `line ${tone}${extra}` })
  if (doubtful === null) return [path(points, "")]
  const sure = points.filter(([a]) => a <= doubtful), rest = points.filter(([a]) => a >= doubtful)
  return [sure.length > 1 ? path(sure, "") : "", rest.length > 1 ? path(rest, " doubtful") : ""].filter(Boolean)
}
// Names stand on their lines, above or, where another name is in the way, below.
function named(svg, limits, x, y, left, end) {
  const taken = []
  for (const limit of [...limits].sort((a, b) => b.at - a.at)) {
    const level = y(limit.at)
    svg.append(el("path", { d: `M${left} ${level}H${end}`, class: `limit ${limit.tone}` }))
    const free = place => taken.every(other => Math.abs(other - place) > 17)
    const place = free(level - 6) ? level - 6 : free(level + 17) ? level + 17 : level + 34
    taken.push(place)
    svg.append(el("text", { x: end - 6, y: place, class: "name end" }, limit.name))
  }
}
// The string: slices that bulge where they are slack and thin where they are pulled, each at the way it has gone.
function string(S, frame) {
  const { pull, shift, loose, alt } = S.data.moving, count = pull[frame].length, table = 66, foot = TALL - 34
  const height = (foot - table) / count, middle = PICTURE / 2
  const down = n => table + n * height + (n ? (shift[frame][Math.min(n, count) - 1] / 100) * 22 : 0)
  const wide = Math.min(S.string.clientWidth || PICTURE, PICTURE)
  const svg = el("svg", { viewBox: `${(PICTURE - wide) / 2} 0 ${wide} ${TALL}`, width: wide, height: TALL, role: "img", "aria-label": alt })
  svg.append(el("rect", { x: 0, y: table - 12, width: PICTURE, height: 26, class: "table" }), el("rect", { x: middle - 11, y: 12, width: 22, height: table - 8, class: "rest" }))
  pull[frame].forEach((force, n) => {
    const half = 11 - force * 0.035
    const colour = `color-mix(in srgb, var(--${force > 0 ? "pulled" : "slack"}) ${Math.min(Math.abs(force), 100)}%, var(--pic-pipe))`
    svg.append(el("rect", { x: middle - half, y: down(n), width: 2 * half, height: Math.max(down(n + 1) - down(n), 1), style: `fill: ${colour}`, class: "slice" }))
    if (n % 5 === 4) svg.append(el("rect", { x: middle - 16, y: down(n + 1) - 4, width: 32, height: 8, class: "joint" }))
  })
  const lift = loose[frame] ? 20 : 0
  for (const side of [-1, 1]) svg.append(el("path", { d: `M${middle + side * 12} ${table - 24 - lift}h${side * 30}l${-side * 10} 38h${-side * 20}z`, class: "slip" }))
  S.string.replaceChildren(svg)
}
