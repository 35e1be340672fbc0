/**
 * What law wants said on the service's pages, in its languages. All of it is a template: check with local law. The ticks about downloads
 * (`consentSupply`, `consentLoss`) stand with the other words. Labels of the withdrawal function after Directive 2011/83/EU, art. 11a(1)
 * and (3). Rules LW3, LW21.
 */
import type { LicenceKind, OrderPart } from '../../../core/handover/orders/index.js';
import type { Language } from './index.js';

export interface LawWords {
  readonly licence: Readonly<Record<LicenceKind, string>>;
  readonly terms: string;
  readonly here: string;
  readonly until: (date: string) => string;
  readonly untilThere: string;
  readonly part: Readonly<Record<OrderPart, string>>;
  readonly statement: (reference: string, day: string) => string;
  readonly confirm: string;
  readonly said: (when: string) => string;
  readonly goesBack: string;
  readonly keep: string;
  readonly prints: string;
  /** Where receipts are in another language than the page; null where they are in this one. */
  readonly paperLanguage: string | null;
}

export const lawWords: Readonly<Record<Language, LawWords>> = {
  en: {
    licence: { personal: 'for your own use', press: 'for the press', sponsor: 'for a sponsor' },
    terms: 'Terms of use',
    here: 'Withdraw from the contract here',
    until: (date) => `without giving a reason, until ${date}`,
    untilThere: 'without giving a reason, until 14 days after you have them',
    part: { downloads: 'Pictures as files', prints: 'Prints' },
    statement: (reference, day) => `I withdraw from the contract of ${day}, order ${reference}.`,
    confirm: 'Confirm withdrawal',
    said: (when) => `The withdrawal from the contract arrived on ${when}.`,
    goesBack:
      'What was paid for it goes back within 14 days, by the way it came. Prints that were received go back to the photographer; files are deleted.',
    keep: 'Confirmation of the withdrawal, to keep',
    prints: 'From the contract for prints you may withdraw without giving a reason until 14 days after you have them.',
    paperLanguage: null,
  },
  de: {
    licence: { personal: 'zum eigenen Gebrauch', press: 'für die Presse', sponsor: 'für einen Sponsor' },
    terms: 'Nutzungsbedingungen',
    here: 'Vertrag hier widerrufen',
    until: (date) => `ohne Angabe von Gründen, bis ${date}`,
    untilThere: 'ohne Angabe von Gründen, bis 14 Tage nach Erhalt',
    part: { downloads: 'Bilder als Dateien', prints: 'Abzüge' },
    statement: (reference, day) => `Ich widerrufe den Vertrag vom ${day}, Bestellung ${reference}.`,
    confirm: 'Widerruf bestätigen',
    said: (when) => `Der Widerruf des Vertrags ist eingegangen: ${when}.`,
    goesBack:
      'Was dafür gezahlt wurde, geht binnen 14 Tagen auf demselben Weg zurück. Erhaltene Abzüge gehen an den Fotografen zurück, Dateien werden gelöscht.',
    keep: 'Bestätigung des Widerrufs zum Aufbewahren',
    prints: 'Den Vertrag über Abzüge können Sie ohne Angabe von Gründen bis 14 Tage nach Erhalt widerrufen.',
    paperLanguage: null,
  },
  fr: {
    licence: { personal: 'pour votre propre usage', press: 'pour la presse', sponsor: 'pour un sponsor' },
    terms: 'Conditions d’utilisation',
    here: 'Se rétracter du contrat ici',
    until: (date) => `sans donner de motif, jusqu’au ${date}`,
    untilThere: 'sans donner de motif, jusqu’à 14 jours après réception',
    part: { downloads: 'Photos en fichiers', prints: 'Tirages' },
    statement: (reference, day) => `Je me rétracte du contrat du ${day}, commande ${reference}.`,
    confirm: 'Confirmer la rétractation',
    said: (when) => `La rétractation du contrat est arrivée le ${when}.`,
    goesBack:
      'Ce qui a été payé est remboursé sous 14 jours, par le même moyen. Les tirages reçus sont renvoyés au photographe, les fichiers sont effacés.',
    keep: 'Confirmation de la rétractation, à garder',
    prints:
      'Vous pouvez vous rétracter du contrat pour les tirages, sans donner de motif, jusqu’à 14 jours après réception.',
    paperLanguage: null,
  },
  it: {
    licence: { personal: 'per uso proprio', press: 'per la stampa', sponsor: 'per uno sponsor' },
    terms: 'Condizioni d’uso',
    here: 'Recedere dal contratto qui',
    until: (date) => `senza dare motivi, fino al ${date}`,
    untilThere: 'senza dare motivi, fino a 14 giorni dopo averle ricevute',
    part: { downloads: 'Foto come file', prints: 'Stampe' },
    statement: (reference, day) => `Recedo dal contratto del ${day}, ordine ${reference}.`,
    confirm: 'Conferma recesso',
    said: (when) => `Il recesso dal contratto è arrivato il ${when}.`,
    goesBack:
      'Quanto pagato viene restituito entro 14 giorni, con lo stesso mezzo. Le stampe ricevute tornano al fotografo, i file si cancellano.',
    keep: 'Conferma del recesso, da conservare',
    prints: 'Dal contratto per le stampe si può recedere senza dare motivi fino a 14 giorni dopo averle ricevute.',
    paperLanguage: null,
  },
  es: {
    licence: { personal: 'para uso propio', press: 'para la prensa', sponsor: 'para un patrocinador' },
    terms: 'Condiciones de uso',
    here: 'Desistir del contrato aquí',
    until: (date) => `sin dar motivos, hasta el ${date}`,
    untilThere: 'sin dar motivos, hasta 14 días después de recibirlas',
    part: { downloads: 'Fotos como archivos', prints: 'Copias en papel' },
    statement: (reference, day) => `Desisto del contrato del ${day}, pedido ${reference}.`,
    confirm: 'Confirmar desistimiento',
    said: (when) => `El desistimiento del contrato llegó el ${when}.`,
    goesBack:
      'Lo pagado se devuelve en 14 días por el mismo medio. Las copias recibidas vuelven al fotógrafo y los archivos se borran.',
    keep: 'Confirmación del desistimiento, para guardar',
    prints: 'Del contrato de las copias puede desistir sin dar motivos hasta 14 días después de recibirlas.',
    paperLanguage: null,
  },
  ar: {
    licence: { personal: 'لاستعمالك الخاص', press: 'للصحافة', sponsor: 'لراعٍ' },
    terms: 'شروط الاستعمال',
    here: 'ارجع عن العقد هنا',
    until: (date) => `دون ذكر سبب، حتى ${date}`,
    untilThere: 'دون ذكر سبب، حتى 14 يومًا بعد استلامها',
    part: { downloads: 'الصور ملفاتٍ', prints: 'الصور المطبوعة' },
    statement: (reference, day) => `أرجع عن العقد المؤرخ ${day}، الطلب ${reference}.`,
    confirm: 'تأكيد الرجوع',
    said: (when) => `وصل الرجوع عن العقد في ${when}.`,
    goesBack: 'يُعاد ما دُفع خلال 14 يومًا بالطريقة التي دُفع بها. تُعاد المطبوعات المستلمة إلى المصوّر وتُحذف الملفات.',
    keep: 'تأكيد الرجوع، للحفظ',
    prints: 'لك أن ترجع عن عقد الصور المطبوعة دون ذكر سبب حتى 14 يومًا بعد استلامها.',
    paperLanguage: 'الإيصال بالإنجليزية.',
  },
};
