// What the page asks the shed to do.

/** Sends JSON to the shed; an answer that is no answer throws the shed's own words. */
export async function send(address, body = {}) {
  const response = await fetch(address, {
    method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify(body),
  });
  const answer = await response.json().catch(() => ({}));
  if (!response.ok) throw new Error(answer.reason || 'The shed answered with an error.');
  return answer;
}
