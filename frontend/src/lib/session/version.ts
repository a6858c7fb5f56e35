declare const __APP_VERSION__: string;

/** The version this screen is of, as the build named it. */
export const APP_VERSION = __APP_VERSION__;
