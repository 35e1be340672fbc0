/** Keeps the computer from going to sleep while it copies, where the system offers a way; says so where it does not. */
import { type ChildProcess, spawn } from 'node:child_process';

export interface Awake {
  state(): Promise<{ readonly kind: 'kept' } | { readonly kind: 'not-kept'; readonly why: string }>;
  release(): void;
}

/** Each ends by itself when this process does, even if it is killed. */
function commandFor(platform: NodeJS.Platform, why: string): readonly string[] | null {
  if (platform === 'darwin') return ['caffeinate', '-i', '-s', '-w', String(process.pid)];
  if (platform !== 'linux') return null;
  const watch = `while kill -0 ${process.pid} 2>/dev/null; do sleep 2; done`;
  return [
    'systemd-inhibit',
    '--what=sleep:idle:handle-lid-switch',
    '--who=Tyrewall',
    `--why=${why}`,
    'sh',
    '-c',
    watch,
  ];
}

export function keepAwake(why: string, platform: NodeJS.Platform = process.platform): Awake {
  const command = commandFor(platform, why);
  if (command === null) return asleep(`this program knows no way to keep ${platform} awake`);
  let ended: string | null = null;
  const child: ChildProcess = spawn(command[0]!, command.slice(1), { stdio: 'ignore', detached: true });
  child.on('error', () => {
    ended = `${command[0]} is not on this computer`;
  });
  child.on('exit', () => {
    ended ??= `${command[0]} was refused`;
  });
  child.unref();
  return {
    state: async () => (ended === null ? { kind: 'kept' } : { kind: 'not-kept', why: ended }),
    release: () => endGroup(child),
  };
}

const asleep = (why: string): Awake => ({ state: async () => ({ kind: 'not-kept', why }), release: () => undefined });

/** The helper and whatever it started end together. */
function endGroup(child: ChildProcess): void {
  try {
    if (child.pid !== undefined) process.kill(-child.pid);
  } catch {
    // It has ended by itself.
  }
}
