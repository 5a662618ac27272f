/** What may be chosen; what is in a file is judged by the server. */
export const TYPES = ".png,.jpg,.jpeg,.webp,.tif,.tiff,.ora,image/png,image/jpeg,image/webp,image/tiff,image/openraster";
