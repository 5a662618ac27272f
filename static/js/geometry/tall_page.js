const TALL = 2.5;

/** So much taller than wide that shown as a whole, nothing of it could be read. @param {{width_px: number, height_px: number} | null | undefined} size */
export const isTall = (size) => Boolean(size) && size.height_px > TALL * size.width_px;

/** @param {{current_revision?: {renditions?: {width_px: number, height_px: number}[]} | null}} page */
export const isTallPage = (page) => isTall(page.current_revision?.renditions?.[0]);
