/** Requests as bytes on a socket: clients mend what they send (paths, hosts, lengths), and here it must go out as broken as it is. */
import { connect } from 'node:net';
import { HOST, Visitor } from '../../../src/shop/testing/visitor.js';

export interface Asked {
  readonly method?: string;
  readonly path: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** Letters up to 0xff go as one byte each in the head, so that what is no UTF-8 can be sent. */
export function bytesOf({ method = 'GET', path, headers = {}, body = '' }: Asked, host = HOST): Buffer {
  const names = Object.keys(headers).map((name) => name.toLowerCase());
  const isCounted = body === '' || names.includes('content-length') || names.includes('transfer-encoding');
  const all = {
    ...(names.includes('host') ? {} : { Host: host }),
    Connection: 'close',
    ...(isCounted ? {} : { 'Content-Length': Buffer.byteLength(body) }),
    ...headers,
  };
  const heads = Object.entries(all).map(([name, value]) => `${name}: ${value}\r\n`);
  const head = `${method} ${path} HTTP/1.1\r\n${heads.join('')}\r\n`;
  return Buffer.concat([Buffer.from(head, 'latin1'), Buffer.from(body)]);
}

export interface Answer {
  /** 0 where the connection was ended without a word. */
  readonly status: number;
  readonly head: string;
  readonly body: string;
  /** It neither answered nor ended within the time. */
  readonly isOpen: boolean;
}

const DRIP_MS = 250;

/** The last bytes may be sent one by one. */
export function send(port: number, bytes: Buffer, { limitMs = 15_000, slowlyLast = 0 } = {}): Promise<Answer> {
  return new Promise((resolve) => {
    const chunks: Buffer[] = [];
    let at = bytes.length - slowlyLast;
    const socket = connect(port, '127.0.0.1', () => void socket.write(bytes.subarray(0, at)));
    const drip = setInterval(() => at < bytes.length && socket.write(bytes.subarray(at, ++at)), DRIP_MS);
    let isOpen = false;
    const limit = setTimeout(() => {
      isOpen = true;
      socket.destroy();
    }, limitMs);
    socket.on('data', (chunk: Buffer) => void chunks.push(chunk));
    socket.on('error', () => undefined);
    socket.on('close', () => {
      clearInterval(drip);
      clearTimeout(limit);
      const [head = '', ...body] = Buffer.concat(chunks).toString().split('\r\n\r\n');
      const status = Number(/^HTTP\/1\.1 (\d{3})/.exec(head)?.[1] ?? 0);
      resolve({ status, head, body: body.join('\r\n\r\n'), isOpen });
    });
  });
}

/** Over the socket, from an address of its own: the proxy says it. */
export const visitorAt = (port: number, address: string): Visitor =>
  new Visitor({
    request: async (path, { method = 'GET', headers: own, body }) => {
      const from = { 'X-Forwarded-For': address, 'Accept-Language': 'en' };
      const asked = { method, path, headers: { ...own, ...from }, body: (body ?? '') as string };
      const answer = await send(port, bytesOf(asked));
      const heads = [...answer.head.matchAll(/^([\w-]+): (.*?)\r?$/gm)].map(
        ([, name, value]) => [name!, value!] as const,
      );
      return new Response(answer.body, { status: answer.status, headers: heads.map(([...pair]) => pair) });
    },
  });
