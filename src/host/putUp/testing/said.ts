/** What tests say of their meeting. */
export const EDITION = '2026-09-19';
export const MARK = 'ab'.repeat(16);
