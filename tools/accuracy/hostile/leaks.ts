/** What may not be in an answer to a stranger. Each finding is a sentence; none is what is hoped for. */
import type { Answer } from './wire.js';

export interface Hostile {
  readonly kind: string;
  readonly side: 'public' | 'admin';
  readonly bytes: Buffer;
  /** What turns it away, or takes it for the harmless thing it is; 0: the connection is ended without a word. */
  readonly expects: readonly number[];
}

/** Statuses of a service that broke; it says 502 and 503 itself, where a request expects them. */
const BROKE = 500;
const TRACES = [
  /\n\s+at .+:\d+:\d+/,
  /node:internal|node_modules|\.(?:ts|mjs|js):\d+/,
  /SQLITE_|SqliteError|LibsqlError|ZodError|SyntaxError|TypeError|ENOENT|EACCES|EMFILE/,
  /\/(?:tmp|home|root|usr|etc|var)\//,
];
const TAGS = /<(?:script|svg|iframe|object|math|img src=x)|" autofocus/i;

export function findingsOf(asked: Hostile, answer: Answer, secrets: readonly string[]): string[] {
  const { status, head, body } = answer;
  const whole = `${head}\r\n\r\n${body}`;
  const sent = asked.bytes.toString();
  // As it is read: in a form, words stand otherwise.
  const theirs = `${sent} ${sent.replace(/\+/g, ' ').replace(/%[0-9a-f]{2}/gi, (code) => String.fromCharCode(Number(`0x${code.slice(1)}`)))}`;
  const found = [
    ...(answer.isOpen ? ['was neither answered nor ended'] : []),
    ...(asked.expects.includes(status) ? [] : [`was answered ${status}, expected ${asked.expects.join(' or ')}`]),
    ...(status >= BROKE && !asked.expects.includes(status) ? ['broke the service'] : []),
    // Whoever sends a word knows it already.
    ...secrets.filter((one) => whole.includes(one) && !theirs.includes(one)).map((one) => `said ${one}`),
    ...TRACES.filter((trace) => trace.test(whole) && !trace.test(theirs)).map((trace) => `said ${trace}`),
    ...(/\/\/evil\.example/.test(whole) || /evil\.example/.test(head) ? ['leads elsewhere'] : []),
    ...(/^x-injected/im.test(head) || /HTTP\/1\.1 \d{3}/.test(body) ? ['let a header or an answer in'] : []),
    ...pageFindings(answer),
  ];
  return found.map((one) => `${asked.kind}: ${one}: ${JSON.stringify(sent.slice(0, 160))}`);
}

function pageFindings({ head, body }: Answer): string[] {
  const header = (name: string) => new RegExp(`^${name}: (.*)$`, 'im').exec(head)?.[1]?.trim() ?? '';
  const cookies = [...head.matchAll(/^set-cookie: (.*)$/gim)].map(([, cookie]) => cookie!);
  const isStrict = (cookie: string) => /^__Host-[^;]+; .*HttpOnly; Secure; SameSite=Lax/.test(cookie);
  const location = header('location');
  const isPage = header('content-type').startsWith('text/html');
  const policy = header('content-security-policy');
  return [
    ...(isPage && TAGS.test(body) ? ['let a tag through'] : []),
    ...(isPage && !/^default-src 'none'/.test(policy) ? ['gave a page without its policy'] : []),
    ...(/unsafe-/.test(policy) ? ['gave a page with a weak policy'] : []),
    ...(cookies.every(isStrict) ? [] : ['set a cookie that is not strict']),
    ...(location === '' || /^\/(?!\/|\\)/.test(location) ? [] : [`sent away to ${location}`]),
    ...(/^(?:image\/jpeg|application\/(?:pdf|zip))/.test(header('content-type')) ? ['gave a file'] : []),
  ];
}
