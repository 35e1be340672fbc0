/**
 * Content lines of a calendar. Source: RFC 5545 (2009), 3.1 (lines end with CRLF and are folded at 75 octets, the break not
 * counted; never within a character, which 3.1 leaves to whoever writes) and 3.3.11 (escaping of TEXT).
 */
const MOST_OCTETS = 75;

/** `name` with its parameters, and a value that is escaped already. */
export const contentLine = (name: string, value: string): string => folded(`${name}:${value}`);

export const escapedText = (text: string): string =>
  text
    .replace(/\r\n?/g, '\n')
    .replace(/[^\P{Cc}\n\t]/gu, '')
    .replace(/[\\;,]/g, (letter) => `\\${letter}`)
    .replace(/\n/g, '\\n');

function folded(line: string): string {
  const parts: string[] = [''];
  let octets = 0;
  for (const letter of line) {
    const more = Buffer.byteLength(letter);
    if (octets + more > MOST_OCTETS) {
      parts.push(' ');
      octets = 1;
    }
    parts[parts.length - 1] += letter;
    octets += more;
  }
  return parts.join('\r\n');
}

export const unfolded = (text: string): readonly string[] => text.replace(/\r?\n[ \t]/g, '').split(/\r?\n/);
