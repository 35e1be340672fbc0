/** An ASC MHL manifest as data (specification 1.0, namespace v2.0). One manifest is one generation of a fill. */
import type { FillId } from '../ids.js';
import type { EpochMs } from '../units.js';

export const hashKinds = ['c4', 'md5', 'sha1', 'xxh128', 'xxh3', 'xxh64'] as const;
export type HashKind = (typeof hashKinds)[number];

/** Hash as text: lower-case hex, or 90 characters for C4. */
export interface ManifestHash {
  readonly kind: HashKind;
  readonly value: string;
  /** A failed hash documents damage and can never verify anything. Directory hashes carry none. */
  readonly action?: 'original' | 'verified' | 'failed';
  readonly at?: EpochMs;
}

export interface ManifestFile {
  /** Relative to the fill's folder, `/` between parts. */
  readonly path: string;
  readonly bytes?: number;
  readonly modified?: EpochMs;
  readonly hashes: readonly ManifestHash[];
  readonly previousPath?: string;
  /** Why the copy standing beside this manifest has not been read back from the disk itself. */
  readonly notReadBack?: string;
}

export interface ManifestDirectory {
  readonly path: string;
  readonly content: readonly ManifestHash[];
  readonly structure: readonly ManifestHash[];
}

export interface Manifest {
  readonly created: EpochMs;
  readonly hostname: string;
  readonly tool: { readonly name: string; readonly version: string };
  readonly process: 'in-place' | 'transfer' | 'flatten';
  readonly root?: { readonly content: readonly ManifestHash[]; readonly structure: readonly ManifestHash[] };
  readonly ignore: readonly string[];
  readonly files: readonly ManifestFile[];
  readonly directories: readonly ManifestDirectory[];
  /** Manifests of histories nested below this folder, with their C4 ids. */
  readonly references: readonly ChainLink[];
  /** Which fill this is; kept in the standard's own `metadata` element. Foreign manifests have none. */
  readonly fill?: FillId;
}

/** One line of `ascmhl_chain.xml`, or a reference to a nested manifest. */
export interface ChainLink {
  readonly sequence?: number;
  readonly path: string;
  readonly c4: string;
}
