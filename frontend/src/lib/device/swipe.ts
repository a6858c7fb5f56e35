// Swipes of one finger. The buttons beside them do the same: nobody has to swipe.

/** One finger's way over the glass, in px and ms. */
export interface Stroke {
  fromX: number;
  fromY: number;
  toX: number;
  toY: number;
  took: number;
  /** How wide the window is. */
  width: number;
}
export type Way = "left" | "right" | "up";

/** A finger that comes in from the edge means the browser's own way back. */
const EDGE = 28;
const FAR = 56;
const SLOWEST = 700;

/** Which way a stroke went; null: it was no swipe, or it belongs to the browser. */
export function wayOf(stroke: Stroke): Way | null {
  const { fromX, fromY, toX, toY, took, width } = stroke;
  const [dx, dy] = [toX - fromX, toY - fromY];
  if (took > SLOWEST || fromX < EDGE || fromX > width - EDGE) return null;
  if (Math.abs(dx) >= FAR && Math.abs(dx) > 1.8 * Math.abs(dy)) return dx < 0 ? "left" : "right";
  return -dy >= FAR && -dy > 1.8 * Math.abs(dx) ? "up" : null;
}

/** Whether a touch here belongs to something that is itself moved sideways: a wide table, a slider, typed text. */
export function isMovedItself(target: Element, within: Element): boolean {
  if (target.closest("input[type=range], input, textarea, select, dialog, [data-no-swipe]")) return true;
  for (let one: Element | null = target; one && one !== within; one = one.parentElement) {
    if (one.scrollWidth > one.clientWidth + 1 && /auto|scroll/.test(getComputedStyle(one).overflowX))
      return true;
  }
  return false;
}

/** Listens for swipes on an element; returns how to stop. What follows the finger is told by `ondrag` (px; 0: let go). */
export function onSwipe(
  node: HTMLElement,
  onway: (way: Way) => void,
  ondrag: (by: number) => void = () => undefined,
): () => void {
  let begun: { id: number; x: number; y: number; at: number } | null = null;

  function down(event: PointerEvent) {
    const zoomed = (window.visualViewport?.scale ?? 1) > 1.01;
    const target = event.target instanceof Element ? event.target : node;
    const isOne = event.pointerType === "touch" && event.isPrimary && !zoomed;
    begun =
      isOne && !isMovedItself(target, node)
        ? { id: event.pointerId, x: event.clientX, y: event.clientY, at: event.timeStamp }
        : null;
  }
  function move(event: PointerEvent) {
    if (event.pointerId !== begun?.id) return;
    const [dx, dy] = [event.clientX - begun.x, event.clientY - begun.y];
    if (Math.abs(dx) > 16 && Math.abs(dx) > 1.8 * Math.abs(dy)) ondrag(dx);
  }
  function up(event: PointerEvent) {
    if (event.pointerId !== begun?.id) return;
    const { x, y, at } = begun;
    const end = { toX: event.clientX, toY: event.clientY, took: event.timeStamp - at };
    drop();
    const way = wayOf({ fromX: x, fromY: y, ...end, width: innerWidth });
    if (way) onway(way);
  }
  /** A second finger, or the browser scrolls: no swipe any more. */
  function drop() {
    begun = null;
    ondrag(0);
  }
  const listen = { pointerdown: down, pointermove: move, pointerup: up, pointercancel: drop } as const;
  for (const [name, heard] of Object.entries(listen)) node.addEventListener(name, heard as EventListener);
  return () => {
    for (const [name, heard] of Object.entries(listen))
      node.removeEventListener(name, heard as EventListener);
  };
}
