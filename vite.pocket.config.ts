import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { defineConfig, type Plugin } from 'vite';

const sha256 = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

/** Script, style and font stand in the page itself: one file is always of one piece, with or without a signal. */
function inOneFile(): Plugin {
  return {
    name: 'in-one-file',
    // After the style has been put together.
    enforce: 'post',
    generateBundle(_, bundle) {
      const outputs = Object.values(bundle);
      const script = outputs.find((output) => output.type === 'chunk');
      const style = outputs.find((output) => output.type === 'asset' && output.fileName.endsWith('.css'));
      if (script?.type !== 'chunk' || style?.type !== 'asset')
        throw new Error('Expected one script and one style to put in.');
      const code = script.code.replaceAll('</script', '<\\/script');
      const look = String(style.source);
      // Nothing may be sent anywhere: what is on the page is the photographer's own.
      const policy = [
        "default-src 'none'",
        `script-src ${sha256(code)}`,
        `style-src ${sha256(look)}`,
        'font-src data:',
        'img-src data:',
        "connect-src 'none'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
      ].join('; ');
      const source = readFileSync('src/pocket/page.html', 'utf8')
        .replace('content="policy"', () => `content="${policy}"`)
        .replace('/* style */', () => look)
        .replace('/* script */', () => code);
      for (const name of Object.keys(bundle)) delete bundle[name];
      this.emitFile({ type: 'asset', fileName: 'index.html', source });
    },
  };
}

/** Builds the pocket page into `dist/pocket`. */
export default defineConfig({
  root: 'src/pocket',
  publicDir: 'public',
  plugins: [inOneFile()],
  build: {
    outDir: '../../dist/pocket',
    emptyOutDir: true,
    assetsInlineLimit: 1_000_000,
    cssCodeSplit: false,
    // The minifier puts a width in per cent into the `font` shorthand, which then counts for nothing.
    cssMinify: false,
    modulePreload: false,
    target: 'es2022',
    rollupOptions: { input: 'src/pocket/main.ts' },
  },
});
