import { Blob as NodeBlob } from "node:buffer";
import { beforeEach, describe, expect, test, vi } from "vitest";
import { sendPhoto, WHOLE, type Ask, type Sent } from "$lib/queue/upload";

class Dropped extends Error {}
class Refusal extends Error {
  constructor(
    readonly code: string,
    readonly facts: Record<string, unknown> = {},
  ) {
    super(code);
  }
}
/** A server that keeps parts as ours does, over a link that drops what it is told to drop. */
class PartServer {
  parts = new Uint8Array(0);
  whole: Uint8Array | null = null;
  repairs = new Set<string>();
  requests: string[] = [];
  sizes: number[] = [];
  /** Says for each request, counted from 1, whether it is lost on the way there or its answer on the way back. */
  lost: (n: number) => "there" | "back" | null = () => null;
  damaged = false;

  ask: Ask = async (method, path, asked) => {
    this.requests.push(`${method} ${path.split("/").slice(2).join("/")}`);
    const fate = this.lost(this.requests.length);
    if (fate === "there") throw new Dropped();
    const said = await this.answer(method, asked);
    if (fate === "back") throw new Dropped();
    return said;
  };

  /** Whether the photo is here whole, byte by byte. */
  has(size: number): boolean {
    return this.whole !== null && Buffer.from(this.whole).equals(Buffer.from(bytes(size)));
  }

  private async answer(method: string, asked: Parameters<Ask>[2]): Promise<Sent> {
    if (method === "GET") return this.where();
    const bytes = new Uint8Array((await asked.body?.arrayBuffer()) ?? []);
    if (method === "PUT") return this.take(bytes, asked.query?.["repair"]);
    this.sizes.push(bytes.length);
    if (this.whole) return this.take(this.whole, asked.query?.["repair"]);
    const offset = Number(asked.headers?.["Upload-Offset"]);
    if (offset !== this.parts.length)
      throw new Refusal("upload_offset_differs", { expected_offset: this.parts.length });
    this.parts = new Uint8Array(Buffer.concat([this.parts, bytes]));
    if (asked.headers?.["Upload-Complete"] !== "?1") return this.where();
    if (this.damaged) {
      this.parts = new Uint8Array(0);
      throw new Refusal("photo_hash_differs");
    }
    return this.take(this.parts, asked.query?.["repair"]);
  }
  private take(bytes: Uint8Array, repair = ""): Sent {
    this.whole = bytes;
    this.repairs.add(repair);
    return { offset: bytes.length, complete: true };
  }
  private where(): Sent {
    return { offset: (this.whole ?? this.parts).length, complete: this.whole !== null };
  }
}

let server: PartServer;
const pause = vi.fn(() => Promise.resolve());
const isDrop = (error: unknown) => error instanceof Dropped;
const bytes = (size: number) => new Uint8Array(size).map((_, i) => (i * 7) % 251);
// jsdom's own has no arrayBuffer().
const blobOf = (content: Uint8Array) => new NodeBlob([content]) as unknown as Blob;
const photo = (size: number) => ({ sha256: "a".repeat(64), blob: blobOf(bytes(size)), repair: "r" });
const send = (size: number, tell?: (sent: number) => void) =>
  sendPhoto(photo(size), { ask: server.ask, isDrop, pause, ...(tell ? { tell } : {}) });

beforeEach(() => {
  server = new PartServer();
});

describe("sending a photo", () => {
  test("a small one goes in one request", async () => {
    await send(WHOLE);

    expect(server.requests).toEqual(["PUT "]);
    expect(server.has(WHOLE)).toBe(true);
  });

  test("a large one goes in parts of 64 to 256 kB, and the screen is told how far it is", async () => {
    const told: number[] = [];

    await send(700_000, (sent) => told.push(sent));

    expect(server.has(700_000)).toBe(true);
    expect(server.sizes.length).toBeGreaterThan(1);
    expect(Math.max(...server.sizes)).toBeLessThanOrEqual(256 * 1024);
    expect(Math.min(...server.sizes.slice(0, -1))).toBeGreaterThanOrEqual(64 * 1024);
    expect(told.at(-1)).toBe(700_000);
    expect(told).toEqual([...told].sort((a, b) => a - b));
  });

  test.each(["there", "back"] as const)(
    "every third request lost on the way %s: whole, and no byte twice",
    async (way) => {
      server.lost = (n) => (n % 3 === 0 ? way : null);

      await send(1_500_000);

      expect(server.has(1_500_000)).toBe(true);
      expect(server.repairs).toEqual(new Set(["r"]));
    },
  );

  test("after a reload it goes on where the server left off", async () => {
    server.parts = bytes(300_000);

    await send(400_000);

    expect(server.requests[0]).toBe("GET upload/");
    expect(server.sizes.reduce((sum, size) => sum + size, 0)).toBe(100_000);
    expect(server.has(400_000)).toBe(true);
  });

  test("another tab sends the same photo meanwhile: both go on where the server says", async () => {
    await Promise.all([send(900_000), send(900_000)]);

    expect(server.has(900_000)).toBe(true);
  });

  test("a photo that is there already is not sent again, but told to which repair it belongs", async () => {
    server.whole = bytes(400_000);

    await send(400_000);

    expect(server.sizes).toEqual([0]);
    expect(server.repairs).toEqual(new Set(["r"]));
  });

  test("damaged parts are given up, and the photo goes whole", async () => {
    server.damaged = true;

    await send(200_000);

    expect(server.has(200_000)).toBe(true);
    expect(server.requests.at(-1)).toBe("PUT ");
  });

  test("without a link it gives up after a few tries, and what came is kept for later", async () => {
    server.lost = (n) => (n > 2 ? "there" : null);

    await expect(send(900_000)).rejects.toThrow(Dropped);

    expect(server.requests.length).toBeLessThan(10);
    expect(server.parts.length).toBeGreaterThan(0);
  });

  test("a refusal is passed on", async () => {
    const refuses: Ask = () => Promise.reject(new Refusal("not_an_image"));

    await expect(sendPhoto(photo(200_000), { ask: refuses, isDrop, pause })).rejects.toThrow("not_an_image");
  });
});
