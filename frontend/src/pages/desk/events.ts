/** What an input tells when something is typed in it. */
export type Typed = Event & { currentTarget: HTMLInputElement };
