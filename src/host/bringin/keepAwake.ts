/** Keeps the computer from going to sleep while it copies, where the system offers a way; says so where it does not. */
import { type ChildProcess, spawn } from 'node:child_process';

export interface Awake {
  release(): void;
}

/** Told at once, for then there is something to be done; and not after the release. */
export type OnMayFallAsleep = (why: string) => void;

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

export function keepAwake(
  why: string,
  onMayFallAsleep: OnMayFallAsleep,
  command: readonly string[] | null = commandFor(process.platform, why),
): Awake {
  if (command === null) {
    onMayFallAsleep(`this program knows no way to keep ${process.platform} awake`);
    return { release: () => undefined };
  }
  let isOver = false;
  const lost = (how: string) => {
    if (!isOver) onMayFallAsleep(`${command[0]} ${how}`);
    isOver = true;
  };
  const child: ChildProcess = spawn(command[0]!, command.slice(1), { stdio: 'ignore', detached: true });
  child.on('error', () => lost('is not on this computer'));
  child.on('exit', () => lost('was refused'));
  child.unref();
  return {
    release: () => {
      isOver = true;
      endGroup(child);
    },
  };
}

/** The helper and whatever it started end together. */
function endGroup(child: ChildProcess): void {
  try {
    if (child.pid !== undefined) process.kill(-child.pid);
  } catch {
    // It has ended by itself.
  }
}
