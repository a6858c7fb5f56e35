/** Something known that a field offers while one types. */
export interface Suggestion {
  key: string;
  label: string;
  /** What tells it from the others: a phone number, a serial number. */
  more?: string;
}
