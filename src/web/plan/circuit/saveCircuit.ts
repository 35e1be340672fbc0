/** A circuit as a file of this computer. */
export function saveCircuit(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/geo+json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = `${name.replaceAll(/[^\p{L}\p{N} -]+/gu, '').trim() || 'circuit'}.geojson`;
  link.click();
  // The browser reads it after the click has returned.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
