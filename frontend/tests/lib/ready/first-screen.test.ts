import { afterEach, beforeEach, expect, test, vi } from "vitest";

const idleLater = vi.fn<(done: () => void, options: { timeout: number }) => void>();

beforeEach(() => {
  vi.resetModules();
  vi.useFakeTimers();
  idleLater.mockClear();
  vi.stubGlobal("requestIdleCallback", idleLater);
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

async function asked() {
  const { afterFirstScreen } = await import("$lib/ready/first-screen");
  const over = vi.fn();
  void afterFirstScreen().then(over);
  return { over, again: afterFirstScreen };
}

test("the first screen has two seconds, and longer while the browser is busy", async () => {
  const { over } = await asked();

  await vi.advanceTimersByTimeAsync(1_900);
  expect(idleLater).not.toHaveBeenCalled();
  await vi.advanceTimersByTimeAsync(200);
  expect(idleLater).toHaveBeenCalledOnce();
  expect(over).not.toHaveBeenCalled();

  idleLater.mock.calls[0]?.[0]();
  await vi.advanceTimersByTimeAsync(0);
  expect(over).toHaveBeenCalledOnce();
});

test("a browser that stays busy is waited for two seconds only", async () => {
  await asked();
  await vi.advanceTimersByTimeAsync(2_000);

  expect(idleLater.mock.calls[0]?.[1]).toEqual({ timeout: 2_000 });
});

test("it comes once: whoever asks later goes on at once", async () => {
  idleLater.mockImplementation((done) => done());
  const { again } = await asked();
  await vi.advanceTimersByTimeAsync(2_000);
  const later = vi.fn();

  void again().then(later);
  await vi.advanceTimersByTimeAsync(0);

  expect(later).toHaveBeenCalledOnce();
});

test("a page still loading is waited for; a browser that cannot say it is idle is not", async () => {
  vi.stubGlobal("requestIdleCallback", undefined);
  Reflect.deleteProperty(globalThis, "requestIdleCallback");
  vi.spyOn(document, "readyState", "get").mockReturnValue("loading");
  const { over } = await asked();
  await vi.advanceTimersByTimeAsync(10_000);
  expect(over).not.toHaveBeenCalled();

  dispatchEvent(new Event("load"));
  await vi.advanceTimersByTimeAsync(2_000);

  expect(over).toHaveBeenCalledOnce();
});

test("a screen that is drawn is seen; one that goes out of sight meanwhile is not waited for", async () => {
  const { drawn } = await import("$lib/ready/first-screen");
  const frames: (() => void)[] = [];
  vi.stubGlobal("requestAnimationFrame", (then: () => void) => frames.push(then));
  const [first, second] = [vi.fn(), vi.fn()];

  void drawn().then(first);
  await vi.advanceTimersByTimeAsync(100);
  expect(first).not.toHaveBeenCalled();
  frames[0]?.();
  await vi.advanceTimersByTimeAsync(1);
  expect(first).toHaveBeenCalledOnce();

  void drawn().then(second);
  await vi.advanceTimersByTimeAsync(600);
  expect(second).toHaveBeenCalledOnce();
});
