// One call a ticket. Dropping the cookie loads the first page afresh: nothing of the last person stays in memory.
export default function ({ parentElement, data, setTriggerValue }) {
  const place = room(parentElement), asked = `${data.method} ${data.ticket}`
  if (place._asked === asked) return
  place._asked = asked
  fetch("/session", { method: data.method, credentials: "same-origin", cache: "no-store", headers: { "X-Trainer-Ticket": data.ticket || "none" } })
    .then(answer => answer.status, () => 0)
    .then(status => data.method === "DELETE" ? location.replace("/") : setTriggerValue("said", status))
}
