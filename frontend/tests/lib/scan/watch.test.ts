import { describe, expect, it } from "vitest";
import { readScanned } from "$lib/scan/reading";
import { justOpened, noteOpened, Watch } from "$lib/scan/watch";

const [A, B] = ["NR7Q2K9A", "P4HB8Z0V"];
const of = (...texts: string[]) => texts.map(readScanned);

/** Looks 100 ms apart, from `start`; the last answer. */
function lookAt(watch: Watch, start: number, ...looks: string[][]) {
  return looks.map((texts, i) => watch.look(of(...texts), start + 100 * i)).at(-1);
}

describe("what the camera does with what it sees", () => {
  it("opens a tag that is alone in two looks in a row", () => {
    const watch = new Watch();

    expect(lookAt(watch, 0, [A])).toBeNull();
    expect(lookAt(watch, 100, [A])).toEqual({ do: "open", code: A });
  });
  it("offers a choice when the second tag comes one look later", () => {
    expect(lookAt(new Watch(), 0, [A], [A, B])).toEqual({ do: "choose", codes: [A, B] });
  });
  it("offers a choice when two tags are seen in turns", () => {
    expect(lookAt(new Watch(), 0, [A], [B])).toEqual({ do: "choose", codes: [A, B] });
  });
  it("keeps what was offered, though one tag leaves the picture", () => {
    const watch = new Watch();
    lookAt(watch, 0, [A, B]);

    expect(lookAt(watch, 5_000, [A], [A], [])).toEqual({ do: "choose", codes: [A, B] });
  });
  it("looks on after the choice was turned down", () => {
    const watch = new Watch();
    lookAt(watch, 0, [A, B]);

    watch.forget();

    expect(lookAt(watch, 300, [B], [B])).toEqual({ do: "open", code: B });
  });
  it("tells what is not ours and opens ours when it comes", () => {
    const watch = new Watch();

    expect(lookAt(watch, 0, ["https://elsewhere.example/"])).toMatchObject({ do: "tell" });
    expect(lookAt(watch, 100, [A], [A])).toEqual({ do: "open", code: A });
  });
  it("opens ours beside something of others", () => {
    expect(lookAt(new Watch(), 0, ["4006381333931", A], ["4006381333931", A])).toEqual({
      do: "open",
      code: A,
    });
  });
  it("holds the tag just opened back until it was gone for a while", () => {
    const watch = new Watch(A);

    expect(lookAt(watch, 0, [A], [A], [A])).toEqual({ do: "hold_back", code: A });
    expect(lookAt(watch, 1_000, [], [A])).toEqual({ do: "hold_back", code: A });
    expect(lookAt(watch, 4_000, [A], [A])).toEqual({ do: "open", code: A });
  });
  it("opens another tag at once while one is held back", () => {
    const watch = new Watch(A);
    lookAt(watch, 0, [A]);

    expect(lookAt(watch, 100, [B], [B])).toEqual({ do: "open", code: B });
  });
  it("knows for a quarter of a minute what was just opened", () => {
    noteOpened(A, 1_000);

    expect(justOpened(15_999)).toBe(A);
    expect(justOpened(16_001)).toBeNull();
  });
});
