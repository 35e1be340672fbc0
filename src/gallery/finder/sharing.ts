/** The private page's address, to be passed on: by the phone's own way of sharing where it has one, else copied. */
import { byId, wordsOn } from './dom.js';

interface Words {
  readonly share: string;
  readonly copied: string;
}

export function startSharing(): void {
  const part = byId('share');
  if (part === null) return;
  const words = wordsOn<Words>(part);
  const button = document.createElement('button');
  button.type = 'button';
  button.textContent = words.share;
  const said = document.createElement('span');
  said.setAttribute('role', 'status');
  part.append(button, ' ', said);
  button.addEventListener('click', async () => {
    const url = location.href.split('#')[0]!;
    try {
      if (navigator.share) await navigator.share({ url, title: document.title });
      else {
        await navigator.clipboard.writeText(url);
        said.textContent = words.copied;
      }
    } catch {
      // Taken back, or not allowed on this page: then the address stands there to be copied by hand.
      said.textContent = url;
    }
  });
}
