/**
 * Under which terms a picture is sold: for one's own use, for the press, for sponsors. A buyer gets a licence, never the picture
 * itself. The texts are templates of ours, filled with the meeting's own data; a photographer's own text takes the same holes.
 * Check with local law: what "personal" and "advertising" mean, and whose leave a picture of a person needs, differs. Rules LW1, LW2.
 */
import type { LicenceKind, Offer } from '../orders/index.js';
import type { LawAbout, LawLanguage } from './types.js';

export const LAW_LANGUAGES: readonly LawLanguage[] = ['en', 'de', 'fr', 'it', 'es', 'ar'];

/** Stands beside every template where a photographer reads or changes it. */
export const CHECK_WITH_LOCAL_LAW: Readonly<Record<LawLanguage, string>> = {
  en: 'Template: check with local law',
  de: 'Vorlage: am örtlichen Recht prüfen',
  fr: 'Modèle : à vérifier selon le droit local',
  it: 'Modello: da verificare secondo la legge locale',
  es: 'Plantilla: compruébese con la ley local',
  ar: 'نموذج: يُراجع وفق القانون المحلي',
};

type Texts = Readonly<Record<LicenceKind, string>>;

const LICENCES: Readonly<Record<LawLanguage, Texts>> = {
  en: {
    personal:
      'For personal use ({meeting}, {day}). You may keep, print and show this picture, on your own pages too, naming “{credit}”. Not to be sold, passed on, published by others or used for advertising. Copyright stays with the photographer; for more ask {contact}.',
    press:
      'For reporting ({meeting}, {day}). The buyer may publish this picture in reports about the meeting or its riders, naming “{credit}”. Not for advertising, not to be passed on to other publishers. Copyright stays with the photographer; for more ask {contact}.',
    sponsor:
      'For the rider’s sponsor ({meeting}, {day}). The buyer may use this picture in their own advertising and printed matter for twelve months, naming “{credit}”. Riders recognisable beside the buyer’s have to agree first. Not to be passed on or sold. Copyright stays with the photographer; for more ask {contact}.',
  },
  de: {
    personal:
      'Zur persönlichen Nutzung ({meeting}, {day}). Das Bild darf aufbewahrt, gedruckt und gezeigt werden, auch auf eigenen Seiten, mit der Nennung „{credit}“. Kein Verkauf, keine Weitergabe, keine Veröffentlichung durch andere, keine Werbung. Das Urheberrecht bleibt beim Fotografen; mehr auf Anfrage an {contact}.',
    press:
      'Zur Berichterstattung ({meeting}, {day}). Das Bild darf in Berichten über die Veranstaltung oder ihre Fahrer veröffentlicht werden, mit der Nennung „{credit}“. Keine Werbung, keine Weitergabe an andere Medien. Das Urheberrecht bleibt beim Fotografen; mehr auf Anfrage an {contact}.',
    sponsor:
      'Für den Sponsor des Fahrers ({meeting}, {day}). Das Bild darf zwölf Monate lang in eigener Werbung und in Drucksachen verwendet werden, mit der Nennung „{credit}“. Andere erkennbare Fahrer müssen vorher zustimmen. Keine Weitergabe, kein Verkauf. Das Urheberrecht bleibt beim Fotografen; mehr auf Anfrage an {contact}.',
  },
  fr: {
    personal:
      'Pour un usage personnel ({meeting}, {day}). Cette photo peut être conservée, imprimée et montrée, aussi sur vos propres pages, avec la mention « {credit} ». Ni vente, ni transmission, ni publication par autrui, ni publicité. Le droit d’auteur reste au photographe ; pour davantage, écrire à {contact}.',
    press:
      'Pour l’information ({meeting}, {day}). Cette photo peut être publiée dans des articles sur la rencontre ou ses pilotes, avec la mention « {credit} ». Ni publicité, ni transmission à d’autres médias. Le droit d’auteur reste au photographe ; pour davantage, écrire à {contact}.',
    sponsor:
      'Pour le sponsor du pilote ({meeting}, {day}). Cette photo peut servir douze mois à sa propre publicité et à ses imprimés, avec la mention « {credit} ». Les autres pilotes reconnaissables doivent d’abord être d’accord. Ni transmission, ni vente. Le droit d’auteur reste au photographe ; pour davantage, écrire à {contact}.',
  },
  it: {
    personal:
      'Per uso personale ({meeting}, {day}). La foto si può conservare, stampare e mostrare, anche sulle proprie pagine, con la menzione «{credit}». Non va venduta, ceduta, pubblicata da altri né usata per pubblicità. Il diritto d’autore resta al fotografo; per altro scrivere a {contact}.',
    press:
      'Per informazione ({meeting}, {day}). La foto si può pubblicare in articoli sull’incontro o sui suoi piloti, con la menzione «{credit}». Niente pubblicità, nessuna cessione ad altri media. Il diritto d’autore resta al fotografo; per altro scrivere a {contact}.',
    sponsor:
      'Per lo sponsor del pilota ({meeting}, {day}). La foto si può usare per dodici mesi nella propria pubblicità e negli stampati, con la menzione «{credit}». Altri piloti riconoscibili devono prima essere d’accordo. Nessuna cessione, nessuna vendita. Il diritto d’autore resta al fotografo; per altro scrivere a {contact}.',
  },
  es: {
    personal:
      'Para uso personal ({meeting}, {day}). La foto se puede guardar, imprimir y mostrar, también en páginas propias, con la mención «{credit}». No se puede vender, ceder, publicar por otros ni usar en publicidad. Los derechos de autor siguen siendo del fotógrafo; para más, escribir a {contact}.',
    press:
      'Para información ({meeting}, {day}). La foto se puede publicar en artículos sobre el encuentro o sus pilotos, con la mención «{credit}». Sin publicidad y sin cederla a otros medios. Los derechos de autor siguen siendo del fotógrafo; para más, escribir a {contact}.',
    sponsor:
      'Para el patrocinador del piloto ({meeting}, {day}). La foto se puede usar doce meses en su propia publicidad e impresos, con la mención «{credit}». Otros pilotos reconocibles deben aceptarlo antes. Ni cesión ni venta. Los derechos de autor siguen siendo del fotógrafo; para más, escribir a {contact}.',
  },
  ar: {
    personal:
      'للاستعمال الشخصي ({meeting}، {day}). يجوز الاحتفاظ بالصورة وطبعها وعرضها، وكذلك في صفحاتك الخاصة، مع ذكر «{credit}». لا يجوز بيعها ولا إعطاؤها لغيرك ولا نشرها من قبل آخرين ولا استعمالها في الإعلان. يبقى حق المؤلف للمصوّر؛ وللمزيد: {contact}.',
    press:
      'للصحافة ({meeting}، {day}). يجوز نشر الصورة في تقارير عن اللقاء أو عن راكبيه مع ذكر «{credit}». لا للإعلان ولا لإعطائها لوسائل أخرى. يبقى حق المؤلف للمصوّر؛ وللمزيد: {contact}.',
    sponsor:
      'لراعي الراكب ({meeting}، {day}). يجوز استعمال الصورة اثني عشر شهرًا في إعلانه ومطبوعاته مع ذكر «{credit}». ويجب أن يوافق قبل ذلك كل راكب آخر يمكن التعرف إليه. لا تُعطى لغيره ولا تُباع. يبقى حق المؤلف للمصوّر؛ وللمزيد: {contact}.',
  },
};

/** Not yet filled, as a photographer reads and changes it. */
export const licenceTemplate = (licence: LicenceKind, language: LawLanguage): string => LICENCES[language][licence];

/** A language's own, or English where we have none of it: `de-AT` is read as `de`. */
export const lawLanguageOf = (language: string): LawLanguage =>
  LAW_LANGUAGES.find((known) => known === language.toLowerCase().split('-')[0]) ?? 'en';

/**
 * The terms as they stand in the picture (IPTC Rights Usage Terms) and on the order.
 * @param own the photographer's own text for this licence, with the same holes
 */
export function usageTermsOf(licence: LicenceKind, language: string, about: LawAbout, own?: string): string {
  const spoken = lawLanguageOf(language);
  const credit = about.credit ?? about.creator ?? about.name;
  const holes: Readonly<Record<string, string>> = {
    meeting: about.name,
    day: dayText(about.firstDay, spoken),
    credit,
    contact: about.contact ?? credit,
  };
  const text = own === undefined || own.trim() === '' ? licenceTemplate(licence, spoken) : own;
  return text.replace(/\{([a-z]+)\}/g, (hole, name: string) => (Object.hasOwn(holes, name) ? holes[name]! : hole));
}

/** What a photographer may have written into the meeting. */
export interface TermsAbout {
  readonly creator?: string;
  readonly credit?: string;
  readonly licences?: Readonly<Partial<Record<LicenceKind, string>>>;
  /** Of finals; stands for the personal licence, where that has no text of its own. */
  readonly finalUsageTerms?: string;
}

export const ownTermsOf = ({ licences = {}, finalUsageTerms }: TermsAbout): NonNullable<Offer['terms']> => ({
  ...(finalUsageTerms === undefined ? {} : { personal: finalUsageTerms }),
  ...licences,
});

/** As sold by an offer: on its pages, and beside the pictures in a zip. */
export function termsOfSale(licence: LicenceKind, language: string, offer: Offer): string {
  const { title: name, firstDay, seller, terms } = offer;
  const contact = seller.contact === null ? {} : { contact: seller.contact };
  const about = { name, firstDay, credit: offer.credit ?? seller.name, ...contact };
  return usageTermsOf(licence, language, about, terms?.[licence]);
}

/** Made once: each costs more than the page it stands on. */
const dates = new Map(
  LAW_LANGUAGES.map((language) => [
    language,
    new Intl.DateTimeFormat(language === 'en' ? 'en-GB' : language, { dateStyle: 'long', timeZone: 'UTC' }),
  ]),
);

const dayText = (day: string, language: LawLanguage): string =>
  dates.get(language)!.format(new Date(`${day}T00:00:00Z`));
