/** The photo on its way to the server, for the screen; null between photos. */
export const onItsWay = $state({ photo: null as { sha256: string; sent: number; of: number } | null });
