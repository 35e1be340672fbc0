/** Names of things. Each is a string whose kind is part of its type; made at the edge, trusted past it. */
import type { Branded } from './units.js';

declare const meetingId: unique symbol;
declare const fileId: unique symbol;
declare const frameId: unique symbol;
declare const fillId: unique symbol;
declare const bodyKey: unique symbol;
declare const writerId: unique symbol;
declare const gestureId: unique symbol;
declare const riderKey: unique symbol;
declare const riderId: unique symbol;
declare const spotId: unique symbol;
declare const personId: unique symbol;

/** UUID of a meeting, minted once in `meeting.json`. */
export type MeetingId = Branded<string, typeof meetingId>;
/** XXH3-128 of all bytes of a file, 32 hex digits, big-endian as the ASC MHL writes it. */
export type FileId = Branded<string, typeof fileId>;
/** XXH3-128 of what makes a frame that frame (decision 1 of the design), 32 hex digits. */
export type FrameId = Branded<string, typeof frameId>;
/** UUID of a fill: a card from one formatting to the next. */
export type FillId = Branded<string, typeof fillId>;
/**
 * A camera body: `make|model|serial` as its files record it, or `make|model|fill:<FillId>` where they
 * record no serial, so that two unnumbered bodies are not silently one.
 */
export type BodyKey = Branded<string, typeof bodyKey>;
/** Random id of one device and start; names `log/<writer>.jsonl`. */
export type WriterId = Branded<string, typeof writerId>;
/** UUIDv7 made by the client; the same gesture sent twice is one gesture. */
export type GestureId = Branded<string, typeof gestureId>;
/** A cluster of this arrangement: good until the next one, never stored as truth. */
export type RiderKey = Branded<string, typeof riderKey>;
/** A minted rider: made on naming, publishing, selling or watching, never by looking. Lives for ever. */
export type RiderId = Branded<string, typeof riderId>;
/** A spot of the meeting's circuit, for instance `gannet`. */
export type SpotId = Branded<string, typeof spotId>;
/** A person in `people/`; the log holds only this. */
export type PersonId = Branded<string, typeof personId>;
