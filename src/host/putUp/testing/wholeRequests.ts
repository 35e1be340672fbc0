/**
 * S3 shows an object when all of it is there, and nothing of an upload that broke off. The test's server writes bytes as they come and leaves
 * what it has; so this line before it passes on whole requests only, one after another.
 */
import { createServer, type IncomingMessage, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { buffer } from 'node:stream/consumers';

export async function wholeRequests(to: number): Promise<Server & { readonly port: number }> {
  let last: Promise<void> = Promise.resolve();
  const line = createServer((asked, answer) => {
    const passOn = async (body: Buffer): Promise<void> => {
      const { statusCode, headers, bytes } = await told(to, asked, body);
      answer.writeHead(statusCode!, headers).end(bytes);
    };
    // A request that broke off is nobody's any more, and neither is what goes wrong with its answer.
    void buffer(asked).then(
      (body) => {
        last = last.then(() => passOn(body)).catch(() => void answer.destroy());
      },
      () => answer.destroy(),
    );
  });
  await new Promise<void>((resolve) => line.listen(0, '127.0.0.1', resolve));
  return Object.assign(line, { port: (line.address() as AddressInfo).port });
}

function told(port: number, { method, url: path, headers: asked }: IncomingMessage, body: Buffer) {
  // Answered here already.
  const { expect: _, ...headers } = asked;
  return new Promise<Pick<IncomingMessage, 'statusCode' | 'headers'> & { readonly bytes: Buffer }>(
    (resolve, reject) => {
      const far = request({ host: '127.0.0.1', port, method, path, headers }, (answer) => {
        const { statusCode, headers } = answer;
        buffer(answer).then((bytes) => resolve({ statusCode, headers, bytes }), reject);
      });
      far.on('error', reject).end(body);
    },
  );
}
