/** Maps picture pixels to screen pixels: scale, then offset. Immutable; each change gives a new one. */
export class ViewTransform {
  constructor(scale = 1, x = 0, y = 0) {
    this.scale = scale;
    this.x = x;
    this.y = y;
    Object.freeze(this);
  }

  /** The whole picture in the middle of the box, with `margin` px around it. */
  static fit(picture, box, margin = 0) {
    const across = Math.max(1, box.width - 2 * margin) / picture.width;
    const down = Math.max(1, box.height - 2 * margin) / picture.height;
    return ViewTransform.centred(picture, box, Math.min(across, down));
  }

  static centred(picture, box, scale) {
    return new ViewTransform(scale, (box.width - picture.width * scale) / 2, (box.height - picture.height * scale) / 2);
  }

  /** Shows one part of the picture (left, top, right, bottom in its pixels) as large as the box allows, up to `most`. */
  static onto([left, top, right, bottom], box, margin, most) {
    const part = { width: Math.max(1, right - left), height: Math.max(1, bottom - top) };
    const fitted = ViewTransform.fit(part, box, margin);
    const at = ViewTransform.centred(part, box, Math.min(most, fitted.scale));
    return new ViewTransform(at.scale, at.x - left * at.scale, at.y - top * at.scale);
  }

  /** @param {[number, number]} point of the picture, in its pixels */
  toScreen([x, y]) {
    return [x * this.scale + this.x, y * this.scale + this.y];
  }

  /** @param {[number, number]} point on the screen */
  toPicture([x, y]) {
    return [(x - this.x) / this.scale, (y - this.y) / this.scale];
  }

  movedBy(dx, dy) {
    return new ViewTransform(this.scale, this.x + dx, this.y + dy);
  }

  /** Zooms so that what lies under `point` stays under it. */
  zoomedAbout(point, factor, [least, most]) {
    const scale = Math.min(most, Math.max(least, this.scale * factor));
    const [x, y] = this.toPicture(point);
    return new ViewTransform(scale, point[0] - x * scale, point[1] - y * scale);
  }

  /** Whether all of the picture is seen; `fitted` shows it so. @param {ViewTransform} fitted */
  isWithin(fitted) {
    return this.scale <= fitted.scale * 1.001;
  }

  /** Keeps the picture inside the box, so that it cannot be lost: all of it where it fits, else so that it covers half of that side. */
  heldIn(picture, box) {
    const hold = (at, size, room) => {
      const rest = size > room ? room / 2 : size;
      return Math.min(room - rest, Math.max(rest - size, at));
    };
    return new ViewTransform(this.scale, hold(this.x, picture.width * this.scale, box.width), hold(this.y, picture.height * this.scale, box.height));
  }
}
