/** Names of files as every system takes them: no separators, no device's name, nothing that turns the writing round. */

/** Separators and what Windows refuses; control characters; marks that are unseen or turn the direction (Unicode UAX 9). */
const UNSAFE = /[<>:"/\\|?*\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Cs}]/gu;
const DEVICE = /^(?:con|prn|aux|nul|com\d|lpt\d)$/i;
/** A name may have 255 bytes in most file systems; number and ending come behind it. */
const MOST_BYTES = 120;

export function safeName(text: string, otherwise: string): string {
  const plain = text.normalize('NFC').replace(UNSAFE, ' ').replace(/\s+/g, ' ').trim();
  const name = shortened(plain).replace(/^[.\s]+|[.\s]+$/g, '');
  return name === '' || DEVICE.test(name.split('.')[0]!.trim()) ? otherwise : name;
}

/** At whole characters. */
function shortened(text: string): string {
  let kept = '';
  for (const letter of text) {
    if (Buffer.byteLength(kept + letter) > MOST_BYTES) break;
    kept += letter;
  }
  return kept;
}
