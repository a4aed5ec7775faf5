/** Stamped by the bundler. */
declare const TIPTOE_VERSION: string | undefined;

/** The version of the package; `development` where nothing was bundled. */
export const version = typeof TIPTOE_VERSION === 'string' ? TIPTOE_VERSION : 'development';
