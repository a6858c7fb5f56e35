import { afterEach, beforeEach, expect, test } from "vitest";
import { hasLooseText, watchTyping } from "$lib/session/typed";
import { followTakeOver, shell, takeNewVersion, watchForNew } from "$lib/session/worker.svelte";

/** A registration as the browser keeps it: at most one worker in each place. */
class Registration extends EventTarget {
  installing: EventTarget | null = null;
  waiting: EventTarget | null = null;
  active: EventTarget | null = null;
  become(state: string) {
    Object.assign(this.installing ?? {}, { state });
    this.installing?.dispatchEvent(new Event("statechange"));
  }
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

/** What the browser has at work for this page. */
class Container extends EventTarget {
  constructor(public controller: EventTarget | null) {
    super();
    followTakeOver(this as unknown as ServiceWorkerContainer);
  }
  takenOver() {
    this.controller = new EventTarget();
    this.dispatchEvent(new Event("controllerchange"));
  }
}

function typeInto(html: string, text: string) {
  document.body.innerHTML = html;
  const field = document.querySelector<HTMLInputElement>("input, textarea");
  if (!field) throw new Error("no field");
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  return field;
}

let stop: () => void;
beforeEach(() => {
  Object.assign(shell, { newVersion: false, notKept: false, wouldLose: false });
  stop = watchTyping();
});
afterEach(() => {
  stop();
  document.body.innerHTML = "";
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

test("a version that cannot be kept is told, and one that comes later takes that back", () => {
  const registration = new Registration();
  [registration.active, registration.installing] = [new EventTarget(), new EventTarget()];
  registration.watched();

  registration.become("redundant");
  const afterFailure = shell.notKept;
  registration.installing = new EventTarget();
  registration.dispatchEvent(new Event("updatefound"));
  registration.become("installed");

  expect([afterFailure, shell.notKept]).toEqual([true, false]);
});

test("a version that makes way for a newer one was kept all the same", () => {
  const registration = new Registration();
  [registration.active, registration.installing] = [new EventTarget(), new EventTarget()];
  registration.watched();

  registration.become("installed");
  registration.become("redundant");

  expect(shell.notKept).toBe(false);
});

test("a tab in which nobody asked keeps its screen when another takes the new version, and says so", () => {
  const container = new Container(new EventTarget());

  container.takenOver();

  expect(shell.newVersion).toBe(true);
});

test("the first worker of a page brings no new version", () => {
  const container = new Container(null);

  container.takenOver();

  expect(shell.newVersion).toBe(false);
});

test("text that is kept nowhere stops the new version once", () => {
  typeInto("<textarea></textarea>", "Only tried a second fuse");

  takeNewVersion();

  expect(shell.wouldLose).toBe(true);
});

test.each([
  ["is kept as a draft", "<div data-draft><input></div>", "118"],
  ["was taken away again", "<input>", ""],
])("text that %s stops nothing", (_what, html, text) => {
  typeInto(html, text);

  expect(hasLooseText()).toBe(false);
});

test("text of a screen that is left stops nothing", () => {
  typeInto("<input>", "118").remove();

  expect(hasLooseText()).toBe(false);
});
