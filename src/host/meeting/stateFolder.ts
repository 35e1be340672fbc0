/** Where this machine keeps what it can make again (index, pictures, who has a meeting open) and the photographer's papers. */
import { homedir } from 'node:os';
import { dirname, join } from 'node:path';
import type { MeetingId } from '../../core/ids.js';

/** `$TYREWALL_STATE`; else the XDG base directory specification's state folder, or the platform's own place. */
export function defaultStateRoot(
  environment: NodeJS.ProcessEnv = process.env,
  platform: NodeJS.Platform = process.platform,
  home: string = homedir(),
): string {
  if (environment.TYREWALL_STATE) return environment.TYREWALL_STATE;
  if (platform === 'darwin') return join(home, 'Library', 'Application Support', 'Tyrewall');
  if (platform === 'win32') return join(environment.LOCALAPPDATA ?? join(home, 'AppData', 'Local'), 'Tyrewall');
  return join(environment.XDG_STATE_HOME || join(home, '.local', 'state'), 'tyrewall');
}

/** One folder per meeting id: a copy on another disk is the same meeting and shares it. */
export const stateFolderOf = (stateRoot: string, meeting: MeetingId): string => join(stateRoot, 'meetings', meeting);

/** Back from a meeting's folder to what all meetings share. */
export const stateRootOf = (stateFolder: string): string => dirname(dirname(stateFolder));
