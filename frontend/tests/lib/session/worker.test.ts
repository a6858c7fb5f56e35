import { beforeEach, expect, test } from "vitest";
import { shell, watchForNew } from "$lib/session/worker.svelte";

/** A registration as the browser keeps it: at most one worker in each place. */
class Registration extends EventTarget {
  installing: EventTarget | null = null;
  waiting: EventTarget | null = null;
  active: EventTarget | null = null;
  watched() {
    watchForNew(this as unknown as ServiceWorkerRegistration);
    return this;
  }
  installed() {
    const worker = this.installing;
    [this.waiting, this.installing] = [worker, null];
    worker?.dispatchEvent(new Event("statechange"));
  }
}

beforeEach(() => {
  shell.newVersion = false;
});

test("a version that waits already is told", () => {
  const registration = new Registration();
  [registration.active, registration.waiting] = [new EventTarget(), new EventTarget()];

  registration.watched();

  expect(shell.newVersion).toBe(true);
});

test("a version found before anybody listened is told once it is there", () => {
  const registration = new Registration();
  [registration.active, registration.installing] = [new EventTarget(), new EventTarget()];

  registration.watched();
  const before = shell.newVersion;
  registration.installed();

  expect([before, shell.newVersion]).toEqual([false, true]);
});

test("a version that comes while the app is open is told", () => {
  const registration = new Registration();
  registration.active = new EventTarget();

  registration.watched();
  registration.installing = new EventTarget();
  registration.dispatchEvent(new Event("updatefound"));
  registration.installed();

  expect(shell.newVersion).toBe(true);
});

test("the very first version is no new one", () => {
  const registration = new Registration();
  registration.installing = new EventTarget();

  registration.watched();
  registration.installed();

  expect(shell.newVersion).toBe(false);
});
