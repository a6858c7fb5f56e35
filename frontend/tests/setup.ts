import "fake-indexeddb/auto";
import { afterEach } from "vitest";
import { cleanup } from "@testing-library/svelte";

// jsdom has no Web Locks: the same promise, one holder per name, `ifAvailable` only, which is all we use.
const held = new Set<string>();
type Work<T> = (lock: { name: string } | null) => Promise<T>;
const locks = {
  async request<T>(name: string, _options: { ifAvailable: true }, work: Work<T>): Promise<T> {
    if (held.has(name)) return work(null);
    held.add(name);
    try {
      return await work({ name });
    } finally {
      held.delete(name);
    }
  },
};
Object.defineProperty(navigator, "locks", { value: locks, configurable: true });

// jsdom knows <dialog> but not how to open it.
Object.assign(HTMLDialogElement.prototype, {
  showModal(this: HTMLDialogElement) {
    this.open = true;
  },
  close(this: HTMLDialogElement) {
    this.open = false;
    this.dispatchEvent(new Event("close"));
  },
});

afterEach(() => {
  cleanup();
});
