/** A mail server of the test's own, on this machine, with a certificate of its own; does with letters what it is told to. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SMTPServer } from 'smtp-server';
import type { MailSettings } from '../types.js';

export interface TestMail {
  readonly settings: MailSettings;
  /** As they came, headers and all. */
  readonly letters: string[];
  readonly recipients: string[];
  stop(): Promise<void>;
}

interface Manners {
  readonly tls?: MailSettings['tls'];
  /** Its answer to a recipient, or to a letter; nothing: it is taken. */
  readonly toRecipient?: (address: string) => Error | null;
  readonly toLetter?: (nth: number) => Error | null | 'hang-up';
}

export const refusal = (responseCode: number, words: string): Error =>
  Object.assign(new Error(words), { responseCode });

/** Of `localhost`, good for a day; null where there is no openssl. */
export function certificate(): { readonly key: string; readonly cert: string } | null {
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-certificate-'));
  try {
    const [key, cert] = [join(folder, 'key'), join(folder, 'cert')];
    const words = `req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 1 -subj /CN=localhost -addext subjectAltName=DNS:localhost -keyout ${key} -out ${cert}`;
    execFileSync('openssl', words.split(' '), { stdio: 'pipe' });
    return { key: readFileSync(key, 'utf8'), cert: readFileSync(cert, 'utf8') };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT' || process.env.REQUIRE_ORACLES === '1') throw error;
    console.warn('SKIPPED: no openssl, so letters over TLS are not tested.');
    return null;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export async function startMail({ tls = 'none', toRecipient, toLetter }: Manners = {}): Promise<TestMail> {
  const made = tls === 'none' ? null : certificate();
  const letters: string[] = [];
  const recipients: string[] = [];
  const server = new SMTPServer({
    ...(made ?? {}),
    secure: tls === 'from-start',
    ...(tls === 'none' ? { hideSTARTTLS: true } : {}),
    authOptional: tls === 'none',
    allowInsecureAuth: false,
    onAuth: ({ username, password }, _, done) =>
      username === 'shop' && password === 'secret'
        ? done(null, { user: 'shop' })
        : done(refusal(535, 'Wrong password')),
    onRcptTo: ({ address }, _, done) => {
      const answer = toRecipient?.(address) ?? null;
      if (answer === null) recipients.push(address);
      done(answer);
    },
    onData: (stream, session, done) => {
      const pieces: Buffer[] = [];
      stream.on('data', (piece: Buffer) => pieces.push(piece));
      stream.on('end', () => {
        letters.push(Buffer.concat(pieces).toString());
        const answer = toLetter?.(letters.length) ?? null;
        if (answer === 'hang-up') for (const connection of server.connections) connection.close();
        else done(answer);
        void session;
      });
    },
  });
  server.on('error', () => undefined);
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.server.address() as AddressInfo;
  return {
    settings: {
      host: tls === 'none' ? '127.0.0.1' : 'localhost',
      port,
      tls,
      user: tls === 'none' ? null : 'shop',
      password: tls === 'none' ? null : 'secret',
      from: { name: 'Trackside Pictures', address: 'pictures@orders.example.org' },
      ...(made === null ? {} : { authority: made.cert }),
    },
    letters,
    recipients,
    stop: () => new Promise((done) => server.close(() => done())),
  };
}

/** Of a letter as it came: a header unfolded, or the text or HTML part decoded (RFC 2045). */
export const headerOf = (letter: string, name: string): string | null =>
  new RegExp(`^${name}: (.*(?:\\r\\n[ \\t].*)*)`, 'im').exec(letter)?.[1]?.replace(/\r\n/g, '') ?? null;

export function partOf(letter: string, type: 'text/plain' | 'text/html'): string {
  const part = letter.split(/\r\n--[^\r\n]+\r\n/).find((one) => one.includes(`Content-Type: ${type}`)) ?? '';
  const at = part.indexOf('\r\n\r\n');
  const body = part.slice(at + 4).replace(/\r\n--[^\r\n]+--\s*$/, '');
  if (/Content-Transfer-Encoding: base64/i.test(part.slice(0, at))) return Buffer.from(body, 'base64').toString();
  const bytes = body
    .replace(/=\r\n/g, '')
    .replace(/=([0-9A-F]{2})/g, (_, hex) => String.fromCharCode(Number.parseInt(hex, 16)));
  return Buffer.from(bytes, 'latin1').toString().replace(/\r\n/g, '\n');
}
