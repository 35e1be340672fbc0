export class OrganiserError extends Error {
  /** What could not be used: a file's line, a name, a field of meeting.json. */
  readonly about: string;

  constructor(sentence: string, about: string) {
    super(sentence);
    this.name = 'OrganiserError';
    this.about = about;
  }
}
