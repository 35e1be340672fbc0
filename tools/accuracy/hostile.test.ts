/** Rules OR23, OR28–OR30, OR35, HD1 and OG29 of docs/rules, among hostile requests; `npm run accuracy hostile` is the long form. */
import { describe, expect, it } from 'vitest';
import { findingsOf, type Hostile } from './hostile/leaks.js';
import type { Answer } from './hostile/wire.js';
import { askHostile } from './hostile.js';

it('leaks nothing, breaks at nothing, and takes an order afterwards', async () => {
  const { requests, findings, kinds } = await askHostile(true);
  expect(findings).toEqual([]);
  expect(requests).toBeGreaterThan(80);
  expect(kinds.length).toBeGreaterThan(18);
});

describe('a leak is seen', () => {
  const asked: Hostile = { kind: 'any', side: 'public', bytes: Buffer.from('GET /?a=%27x HTTP/1.1'), expects: [200] };
  const policy = "content-type: text/html\r\ncontent-security-policy: default-src 'none'";
  const fine: Answer = { status: 200, head: `HTTP/1.1 200 OK\r\n${policy}`, body: '<p>', isOpen: false };
  const seen = (more: Partial<Answer>) => findingsOf(asked, { ...fine, ...more }, ['a secret', "'x"]);

  it.each<[string, Partial<Answer>]>([
    ['said a secret', { body: 'with a secret in it' }],
    ['was answered 500', { status: 500 }],
    ['neither answered nor ended', { isOpen: true }],
    ['let a tag through', { body: '<p><script>' }],
    ['said /', { body: '{}\n    at run (index:3:5)' }],
    ['said /', { body: 'ENOENT: no such file' }],
    ['said /', { body: 'in /home/somebody' }],
    ['let a header or an answer in', { head: `${fine.head}\r\nX-Injected: 1` }],
    ['let a header or an answer in', { body: 'HTTP/1.1 200 OK' }],
    ['without its policy', { head: 'HTTP/1.1 200 OK\r\ncontent-type: text/html' }],
    ['weak policy', { head: `${fine.head}; style-src 'unsafe-inline'` }],
    ['not strict', { head: `${fine.head}\r\nset-cookie: form=1; Path=/` }],
    ['sent away', { head: `${fine.head}\r\nlocation: //b` }],
    ['leads elsewhere', { head: `${fine.head}\r\nlocation: https://evil.example` }],
    ['gave a file', { head: 'HTTP/1.1 200 OK\r\ncontent-type: application/pdf' }],
  ])('%s', (finding, more) => {
    expect(seen(more).join()).toContain(finding);
  });

  it('and what somebody said themselves is none', () => {
    expect(seen({ body: "they said 'x" })).toEqual([]);
    expect(findingsOf(asked, fine, ["'y"])).toEqual([]);
  });
});
