export default function ({ parentElement, data }) {
  const place = room(parentElement)
  const figure = make("figure", { style: `max-width: ${Number(data.width)}px` }, drawing(data.svg, data.alt))
  if (data.caption) figure.append(make("figcaption", {}, data.caption))
  place.replaceChildren(figure)
}
