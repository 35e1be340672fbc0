/** The key a server shows, for a person to compare with what the provider says. */
export const hostKeyOf = async (host: string, port: number): Promise<string> =>
  (await import('./sftpPlace.js')).hostKeyShownBy(host, port);
