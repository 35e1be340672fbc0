/** Where the provider tells of payments. Verified over the body as it came, before anything is read of it. Rules OR23, OR25. */
import type { Hono } from 'hono';
import { ZodError } from 'zod';
import { verifyWebhook } from '../payment/standardWebhooks.js';
import { ShopError } from '../shopError.js';
import { tellPayment } from './deeds.js';
import type { ShopPorts } from './types.js';

export function addWebhooks(app: Hono, ports: ShopPorts): void {
  const { provider } = ports;
  if (provider === null) return;
  app.post(`/webhook/${provider.key}`, async (context) => {
    const body = await context.req.text();
    const header = (name: string) => context.req.header(`webhook-${name}`);
    const outcome = verifyWebhook(
      { id: header('id'), timestamp: header('timestamp'), signature: header('signature'), body },
      provider.webhookKeys,
      ports.now(),
    );
    // Why, would tell a forger how near they are.
    if (outcome.kind === 'refused') return context.text('Not signed as agreed.', 401);
    try {
      const event = provider.read(JSON.parse(body));
      if (event.kind !== 'nothing') {
        await tellPayment(ports, outcome.id, provider.key, event);
        for (const part of ports.parts) part.told(event.order);
      }
      return context.body(null, 204);
    } catch (error) {
      const isTheirs = error instanceof ZodError || error instanceof SyntaxError;
      if (!isTheirs && !(error instanceof ShopError)) throw error;
      console.error(`A signed webhook of ${provider.name} (${outcome.id}) says nothing that counts: ${wordsOf(error)}`);
      return context.text('Signed, but not as agreed.', 422);
    }
  });
}

/** On one line, for whoever reads the service's output. */
function wordsOf(error: Error): string {
  const [first] = error instanceof ZodError ? error.issues : [];
  return first ? `${first.path.join('.')}: ${first.message}` : error.message;
}
