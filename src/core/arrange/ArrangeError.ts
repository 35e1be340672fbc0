/** Something that arrange was promised and did not get. Whatever a photographer may meet is a question or a role instead. */
export class ArrangeError extends Error {
  override readonly name = 'ArrangeError';
  readonly path: string;
  readonly expected: string;
  readonly received: string;

  constructor(path: string, expected: string, received: string, remedy: string) {
    super(`Expected ${expected} for ${path} but got ${received}. ${remedy}`);
    this.path = path;
    this.expected = expected;
    this.received = received;
  }
}
