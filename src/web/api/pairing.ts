/** The printed address carries the token in its fragment: it is exchanged for a cookie once and then forgotten. */
import { desk } from './client.js';

export async function pairFromAddress(): Promise<void> {
  const token = new URLSearchParams(window.location.hash.slice(1)).get('token');
  if (token === null) return;
  window.history.replaceState(null, '', window.location.pathname + window.location.search);
  await desk.pair(token);
}
