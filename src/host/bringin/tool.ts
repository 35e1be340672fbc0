/** How this program signs manifests. */
export const tool = { name: 'tyrewall', version: '0.1.0' } as const;
