/** What riders are told of their pictures, in each language; linked from every page's foot. */
import { xml } from '../core/finish/index.js';
import { privacyNotice } from '../core/handover/law/index.js';
import { type Page, pageOf, type Site } from './html.js';

export function privacyPage(site: Site): Page {
  const { gallery, tongue } = site;
  const { credit, contact, firstDay } = gallery;
  const about = { name: gallery.title, firstDay, ...(credit && { credit }), ...(contact && { contact }) };
  const { title, paragraphs } = privacyNotice(tongue.language, about, { galleries: site.keptDays });
  const body = [`<h1>${xml(title)}</h1>`, ...paragraphs.map((text) => `<p>${xml(text)}</p>`)].join('\n');
  return pageOf(site, { path: 'privacy.html', title, body });
}
