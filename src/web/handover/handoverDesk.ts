/** What the desk is asked about places and law. */
import { queryOptions } from '@tanstack/react-query';
import type { FrameId, GestureId, RiderKey } from '../../core/ids.js';
import type { MinorSaid } from '../../core/log/minorSaid.js';
import type { AboutView, HandoverView } from '../../server/handover/types.js';
import { ask, post } from '../api/client.js';

/** Under the actions, so that it is asked anew as they go on. */
export const handoverQuery = queryOptions({
  queryKey: ['actions', 'handover'],
  queryFn: () => ask<HandoverView>('/api/handover'),
});

export type Meant = { readonly rider: RiderKey } | { readonly frame: FrameId };

export const aboutQuery = (meant: Meant) => {
  const search = 'rider' in meant ? `rider=${encodeURIComponent(meant.rider)}` : `frame=${meant.frame}`;
  return queryOptions({
    queryKey: ['handover', 'about', search],
    queryFn: () => ask<AboutView>(`/api/handover/about?${search}`),
  });
};

const place = (name: string): string => `/api/handover/places/${encodeURIComponent(name)}`;

export const handoverDesk = {
  dryRun: (name: string) => post<{ lines: readonly string[] }>(`${place(name)}/dry-run`),
  putUp: (name: string) => post<{ started: string }>(`${place(name)}/put-up`),
  stop: (name: string) => post<{ stopping: string }>(`${place(name)}/stop`),
  takeDown: (gesture: GestureId, meant: Meant) =>
    post<{ frames: number }>('/api/handover/take-down', { gesture, ...meant }),
  again: () => post<{ started: true }>('/api/handover/again'),
  minor: (gesture: GestureId, rider: RiderKey, is: MinorSaid) =>
    post<{ asOf: number }>('/api/handover/minor', { gesture, rider, is }),
  giveOut: (rider: RiderKey) => post<{ started: true }>('/api/handover/give-out', { rider }),
};
