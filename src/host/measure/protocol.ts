/** Given to a measuring child once, as its only argument. */
export interface ChildSettings {
  readonly pictureFolder: string;
}
