/** Two listeners of one process: riders on one, the photographer on the other. Slow and endless requests are ended. Rules OR30, OR35. */
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { serve } from '@hono/node-server';
import type { Hono } from 'hono';
import { adminApp } from './adminApp.js';
import { adminDoor } from './adminKeys.js';
import { type DataFolder, DataFolderError } from './dataFolder.js';
import { publicApp } from './publicApp.js';
import type { ShopPart, ShopPorts } from './types.js';

const LOOPBACK = new Set(['127.0.0.1', '::1', 'localhost']);

/**
 * A phone with one bar sends a form in a few seconds; what takes longer is no form. A connection is kept longer than reverse proxies keep
 * theirs: one that ends as the next request comes is an order that has to be sent again.
 */
const TIMES = { headersTimeout: 10_000, requestTimeout: 20_000, keepAliveTimeout: 65_000 } as const;
const LIMITS = { maxHeaderSize: 16 * 1024, connectionsCheckingInterval: 1_000 } as const;
const MOST_CONNECTIONS = 2_000;
/** Of answers nobody reads on. Handing over has its own, longer ones. */
const IDLE_MS = 120_000;

export interface ListenWish {
  /** Where riders reach it; null for this machine alone. */
  readonly site: string | null;
  readonly listen: string;
  readonly port: number;
  readonly adminListen: string;
  readonly adminPort: number;
  readonly isBehindProxy: boolean;
}

export interface Listening {
  readonly port: number;
  readonly adminPort: number;
  close(): Promise<void>;
}

export async function listenShop(
  ports: Omit<ShopPorts, 'site' | 'parts'>,
  partsOf: (ports: Omit<ShopPorts, 'parts'>) => Promise<readonly ShopPart[]>,
  { folder, settings, adminKey }: DataFolder,
  wish: ListenWish,
): Promise<Listening> {
  const isLoopback = LOOPBACK.has(wish.adminListen);
  if (!isLoopback && settings.adminPassword === null)
    throw new DataFolderError(
      `Expected a password before the admin side listens on ${wish.adminListen}, but none is set in ${folder}. Say tyrewall orders password first, or leave it on 127.0.0.1.`,
      folder,
    );
  let adminPort = wish.adminPort;
  const knock = adminDoor({ adminKey, adminPassword: settings.adminPassword }, ports.now);
  const hosts = () => (isLoopback ? ['127.0.0.1', 'localhost', '[::1]'].map((name) => `${name}:${adminPort}`) : null);
  // Public pages say their own address, so the port has to be known before they are made.
  let app: Hono | null = null;
  const notYet = () => new Response('Starting.', { status: 503, headers: { 'retry-after': '1' } });
  const outside = await listening((request, env) => app?.fetch(request, env) ?? notYet(), wish.listen, wish.port);
  try {
    return await withInside();
  } catch (error) {
    await outside.close();
    throw error;
  }
  async function withInside(): Promise<Listening> {
    const here = `127.0.0.1:${outside.port}`;
    const sited = { ...ports, site: wish.site ?? `http://${here}` };
    const parts = await partsOf(sited);
    const complete: ShopPorts = { ...sited, parts };
    const alsoHere = wish.site === null ? [`localhost:${outside.port}`] : [here];
    app = publicApp(complete, { isBehindProxy: wish.isBehindProxy, hosts: alsoHere });
    const inside = await listening(adminApp(complete, { knock, hosts }).fetch, wish.adminListen, wish.adminPort);
    adminPort = inside.port;
    for (const part of parts) part.start();
    return {
      port: outside.port,
      adminPort,
      close: async () => {
        await Promise.all([outside.close(), inside.close()]);
        for (const part of parts) await part.close();
      },
    };
  }
}

function listening(
  fetch: Parameters<typeof serve>[0]['fetch'],
  hostname: string,
  port: number,
): Promise<{ readonly port: number; close(): Promise<void> }> {
  return new Promise((resolve, reject) => {
    const server = serve({ fetch, hostname, port, serverOptions: { ...TIMES, ...LIMITS } }, (info: AddressInfo) => {
      server.maxConnections = MOST_CONNECTIONS;
      server.setTimeout(IDLE_MS);
      resolve({
        port: info.port,
        close: () =>
          new Promise((closed) => {
            server.close(() => closed());
            server.closeAllConnections();
          }),
      });
    }) as Server;
    server.on('error', (cause: NodeJS.ErrnoException) => {
      const why = cause.code === 'EADDRINUSE' ? 'another program listens there' : cause.message;
      reject(
        new Error(
          `Expected port ${port} of ${hostname} to be free, but ${why}. Say another with --port or --admin-port.`,
          { cause },
        ),
      );
    });
  });
}
