// Pan and zoom for anything drawn in a box, by wheel, pinch, drag and keys; it knows nothing of what is drawn.

import { Looking } from "../geometry.js";

const STEP = 1.25;

/**
 * @typedef {object} Ways
 * @property {() => Looking} look
 * @property {(look: Looking) => void} changed
 * @property {() => void} whole  shows all of it again
 * @property {(event: PointerEvent) => Grip | null} [grip]  what one pointer takes hold of instead of moving the picture
 *
 * @typedef {object} Grip
 * @property {(dx: number, dy: number, event: PointerEvent) => void} move  pixels since it was taken hold of
 * @property {() => void} end
 * @property {() => void} cancel
 */

/** @param {HTMLElement} box @param {Ways} ways */
export function makeLookable(box, ways) {
  /** @type {Map<number, {x: number, y: number}>} */
  const down = new Map();
  let grip = /** @type {Grip | null} */ (null);
  let from = { x: 0, y: 0 };

  /** @param {MouseEvent} event @returns {[number, number]} */
  const at = (event) => {
    const { left, top } = box.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  };
  /** @param {number} by @param {readonly [number, number]} around */
  const zoom = (by, around) => ways.changed(ways.look().zoomed(by, around, 0.08, 14));

  box.addEventListener(
    "wheel",
    (event) => {
      event.preventDefault();
      const size = event.deltaMode === 1 ? 16 : 1;
      if (event.shiftKey) ways.changed(ways.look().moved(-(event.deltaY + event.deltaX) * size, 0));
      else zoom(Math.exp(-event.deltaY * size * (event.ctrlKey ? 0.01 : 0.0015)), at(event));
    },
    { passive: false },
  );
  box.addEventListener("pointerdown", (event) => {
    if (event.button > 1) return;
    down.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (down.size === 1) {
      from = { x: event.clientX, y: event.clientY };
      grip = event.button === 0 ? (ways.grip?.(event) ?? null) : null;
    } else {
      grip?.cancel();
      grip = null;
    }
  });
  box.addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    if (!box.hasPointerCapture(event.pointerId)) {
      if (down.size === 1 && Math.hypot(event.clientX - from.x, event.clientY - from.y) < 4) return;
      box.setPointerCapture(event.pointerId);
    }
    const now = { x: event.clientX, y: event.clientY };
    if (down.size === 2) {
      const other = [...down].find(([id]) => id !== event.pointerId)?.[1];
      if (other) {
        const { left, top } = box.getBoundingClientRect();
        const apart = Math.hypot(before.x - other.x, before.y - other.y) || 1;
        const by = Math.hypot(now.x - other.x, now.y - other.y) / apart;
        const moved = ways.look().moved((now.x - before.x) / 2, (now.y - before.y) / 2);
        ways.changed(moved.zoomed(by, [(now.x + other.x) / 2 - left, (now.y + other.y) / 2 - top], 0.08, 14));
      }
    } else if (grip) grip.move(now.x - from.x, now.y - from.y, event);
    else ways.changed(ways.look().moved(now.x - before.x, now.y - before.y));
    down.set(event.pointerId, now);
  });
  /** @param {PointerEvent} event */
  const up = (event) => {
    if (!down.delete(event.pointerId)) return;
    if (down.size === 0 && grip) {
      if (event.type === "pointercancel") grip.cancel();
      else grip.end();
      grip = null;
    }
  };
  box.addEventListener("pointerup", up);
  box.addEventListener("pointercancel", up);
  box.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    const middle = /** @type {[number, number]} */ ([box.clientWidth / 2, box.clientHeight / 2]);
    if (event.key === "+" || event.key === "=") zoom(STEP, middle);
    else if (event.key === "-") zoom(1 / STEP, middle);
    else if (event.key === "0") ways.whole();
    else if (event.target === box && event.key.startsWith("Arrow")) {
      const [dx, dy] = /** @type {Record<string, [number, number]>} */ ({
        ArrowLeft: [60, 0],
        ArrowRight: [-60, 0],
        ArrowUp: [0, 60],
        ArrowDown: [0, -60],
      })[event.key] ?? [0, 0];
      ways.changed(ways.look().moved(dx, dy));
    } else return;
    event.preventDefault();
  });
  return { zoom: (/** @type {number} */ by) => zoom(by, [box.clientWidth / 2, box.clientHeight / 2]) };
}

export { Looking, STEP };
