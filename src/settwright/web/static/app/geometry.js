// Plane maps and the way a picture is looked at: small immutable values, plain arithmetic, tested without a browser.

/** @typedef {readonly [number, number]} Point */

/**
 * How a picture is looked at: screen = (x, y) + zoom × picture. Every change gives a new value.
 */
export class Looking {
  /** @param {number} x @param {number} y @param {number} zoom */
  constructor(x, y, zoom) {
    this.x = x;
    this.y = y;
    this.zoom = zoom;
    Object.freeze(this);
  }

  /** Returns the look that shows a box whole, with a margin, in a window. Box: left, top, right, bottom.
   * @param {readonly [number, number, number, number]} box @param {number} width @param {number} height
   * @param {number} [margin] */
  static whole([left, top, right, bottom], width, height, margin = 24) {
    const zoom = Math.max(
      0.01,
      Math.min((width - 2 * margin) / Math.max(1, right - left), (height - 2 * margin) / Math.max(1, bottom - top)),
    );
    return new Looking((width - zoom * (left + right)) / 2, (height - zoom * (top + bottom)) / 2, zoom);
  }

  /** Returns the look moved by so much of the screen. @param {number} dx @param {number} dy */
  moved(dx, dy) {
    return new Looking(this.x + dx, this.y + dy, this.zoom);
  }

  /** Returns the look zoomed by a factor, one place of the screen held still, between limits.
   * @param {number} by @param {Point} at @param {number} least @param {number} most */
  zoomed(by, [ax, ay], least, most) {
    const zoom = Math.min(most, Math.max(least, this.zoom * by));
    const factor = zoom / this.zoom;
    return new Looking(ax + (this.x - ax) * factor, ay + (this.y - ay) * factor, zoom);
  }

  /** Returns a place of the screen in the picture. @param {Point} at @returns {Point} */
  back([x, y]) {
    return [(x - this.x) / this.zoom, (y - this.y) / this.zoom];
  }

  /** Returns the transform as SVG and CSS write it. */
  toString() {
    return `translate(${this.x} ${this.y}) scale(${this.zoom})`;
  }
}

/** Returns a number modulo another, never negative. @param {number} value @param {number} by */
export function modulo(value, by) {
  return value - by * Math.floor(value / by);
}

/** Returns the shortest way from one place of a repeat to another. @param {number} from @param {number} to
 * @param {number} repeat */
export function shortest(from, to, repeat) {
  const way = modulo(to - from, repeat);
  return way > repeat / 2 ? way - repeat : way;
}
