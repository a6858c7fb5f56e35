import { isSame } from "$lib/templates/body";

/** What is typed for a value: it stays as typed while it means the value, and follows when the value changes otherwise. */
export class Typing<T> {
  #typed = $state.raw<{ text: string; made: T } | null>(null);

  constructor(
    private readonly value: () => T,
    private readonly show: (value: T) => string,
  ) {}

  get text(): string {
    const typed = this.#typed;
    return typed && isSame(typed.made, this.value()) ? typed.text : this.show(this.value());
  }

  /** `made` is what the text means; where it means nothing, the value as it stays. */
  type(text: string, made: T): void {
    this.#typed = { text, made };
  }
}
