/** What finding says beside the pages' own words, in the gallery's languages. Counted words have CLDR's plurals. */
import type { Language } from '../words/index.js';

/** `other` is in every language. */
export type Counted = Readonly<Partial<Record<'zero' | 'one' | 'two' | 'few' | 'many', string>>> & {
  readonly other: string;
};

export interface FinderWords {
  readonly more: string;
  readonly leathers: string;
  readonly spot: string;
  readonly about: string;
  readonly class: string;
  readonly name: string;
  readonly any: string;
  readonly moreNear: Counted;
  readonly nobody: string;
  readonly near: string;
  readonly notFetched: string;
  readonly noSignal: string;
  /** A way down to them, where a phone does not show them yet. */
  readonly below: string;
  readonly showMore: string;
  readonly notMe: string;
  readonly aside: string;
  readonly asideWhy: string;
  readonly putBack: string;
  readonly own: string;
  readonly share: string;
  readonly copied: string;
  readonly code: string;
}

export const finderWords: Readonly<Record<Language, FinderWords>> = {
  en: {
    more: 'Say more',
    leathers: 'Leathers',
    spot: 'Where',
    about: 'About what time?',
    class: 'Class',
    name: 'Name',
    any: 'any',
    moreNear: { one: '{n} more is near.', other: '{n} more are near.' },
    nobody: 'Nobody fits all of that. Take something back, or write that you cannot find yourself.',
    near: 'near: {what}',
    notFetched: 'The list could not be fetched. The boxes lead to pages instead.',
    noSignal: 'No signal just now. What you chose stays, and the answer comes with the signal.',
    below: 'Below: {riders}',
    showMore: 'Show more',
    notMe: 'Not me',
    aside: 'Put aside by you',
    asideWhy: 'On this phone only. Nothing is deleted.',
    putBack: 'Put back',
    own: 'This page is yours: no other page leads here. Whoever has its address sees these pictures.',
    share: 'Pass this address on',
    copied: 'Copied.',
    code: 'Code with the address of this page',
  },
  de: {
    more: 'Mehr angeben',
    leathers: 'Leder',
    spot: 'Wo',
    about: 'Ungefähr wann?',
    class: 'Klasse',
    name: 'Name',
    any: 'egal',
    moreNear: { one: '{n} weiterer ist nah dran.', other: '{n} weitere sind nah dran.' },
    nobody: 'Auf niemanden trifft das alles zu. Nimm etwas zurück oder schreib, dass du dich nicht findest.',
    near: 'nah dran: {what}',
    notFetched: 'Die Liste war nicht zu holen. Die Felder führen stattdessen zu Seiten.',
    noSignal: 'Gerade kein Netz. Die Auswahl bleibt, und mit dem Netz kommt die Antwort.',
    below: 'Unten: {riders}',
    showMore: 'Mehr zeigen',
    notMe: 'Nicht ich',
    aside: 'Von dir beiseitegelegt',
    asideWhy: 'Nur auf diesem Telefon. Gelöscht wird nichts.',
    putBack: 'Zurücklegen',
    own: 'Diese Seite gehört dir: Keine andere führt hierher. Wer ihre Adresse hat, sieht diese Bilder.',
    share: 'Diese Adresse weitergeben',
    copied: 'Kopiert.',
    code: 'Code mit der Adresse dieser Seite',
  },
  fr: {
    more: 'Préciser',
    leathers: 'Combinaison',
    spot: 'Où',
    about: 'Vers quelle heure ?',
    class: 'Catégorie',
    name: 'Nom',
    any: 'peu importe',
    moreNear: {
      one: '{n} autre s’en approche.',
      many: '{n} autres s’en approchent.',
      other: '{n} autres s’en approchent.',
    },
    nobody: 'Personne ne correspond à tout cela. Retirez un choix, ou écrivez que vous ne vous trouvez pas.',
    near: 'proche : {what}',
    notFetched: 'La liste n’a pas pu être chargée. Les cases mènent à des pages.',
    noSignal: 'Pas de réseau en ce moment. Le choix reste, et la réponse vient avec le réseau.',
    below: 'Plus bas : {riders}',
    showMore: 'En voir plus',
    notMe: 'Pas moi',
    aside: 'Mis de côté par vous',
    asideWhy: 'Sur ce téléphone seulement. Rien n’est supprimé.',
    putBack: 'Remettre',
    own: 'Cette page est à vous : aucune autre n’y mène. Qui a son adresse voit ces photos.',
    share: 'Transmettre cette adresse',
    copied: 'Copié.',
    code: 'Code avec l’adresse de cette page',
  },
  it: {
    more: 'Aggiungi altro',
    leathers: 'Tuta',
    spot: 'Dove',
    about: 'Verso che ora?',
    class: 'Classe',
    name: 'Nome',
    any: 'qualsiasi',
    moreNear: {
      one: '{n} altro ci va vicino.',
      many: '{n} altri ci vanno vicino.',
      other: '{n} altri ci vanno vicino.',
    },
    nobody: 'Nessuno corrisponde a tutto questo. Togli qualcosa, o scrivi che non ti trovi.',
    near: 'vicino: {what}',
    notFetched: 'Non è stato possibile caricare l’elenco. Le caselle portano a delle pagine.',
    noSignal: 'Nessun segnale al momento. La scelta resta, e la risposta arriva con il segnale.',
    below: 'Più sotto: {riders}',
    showMore: 'Mostra altri',
    notMe: 'Non sono io',
    aside: 'Messe da parte da te',
    asideWhy: 'Solo su questo telefono. Non si cancella nulla.',
    putBack: 'Rimetti',
    own: 'Questa pagina è tua: nessun’altra porta qui. Chi ha l’indirizzo vede queste foto.',
    share: 'Passa questo indirizzo',
    copied: 'Copiato.',
    code: 'Codice con l’indirizzo di questa pagina',
  },
  es: {
    more: 'Decir más',
    leathers: 'Mono',
    spot: 'Dónde',
    about: '¿Hacia qué hora?',
    class: 'Categoría',
    name: 'Nombre',
    any: 'da igual',
    moreNear: { one: '{n} más se acerca.', many: '{n} más se acercan.', other: '{n} más se acercan.' },
    nobody: 'Nadie cumple todo eso. Quita algo, o escribe que no te encuentras.',
    near: 'cerca: {what}',
    notFetched: 'No se pudo cargar la lista. Las casillas llevan a páginas.',
    noSignal: 'Sin señal ahora mismo. Lo elegido se queda, y la respuesta llega con la señal.',
    below: 'Más abajo: {riders}',
    showMore: 'Mostrar más',
    notMe: 'No soy yo',
    aside: 'Apartadas por ti',
    asideWhy: 'Solo en este teléfono. No se borra nada.',
    putBack: 'Devolver',
    own: 'Esta página es tuya: ninguna otra lleva aquí. Quien tenga su dirección ve estas fotos.',
    share: 'Pasar esta dirección',
    copied: 'Copiado.',
    code: 'Código con la dirección de esta página',
  },
  ar: {
    more: 'أضف المزيد',
    leathers: 'البدلة الجلدية',
    spot: 'أين',
    about: 'في أي وقت تقريبًا؟',
    class: 'الفئة',
    name: 'الاسم',
    any: 'أيًّا كان',
    moreNear: {
      zero: 'لا أحد آخر قريب من ذلك.',
      one: 'واحد آخر قريب من ذلك.',
      two: 'اثنان آخران قريبان من ذلك.',
      few: '{n} آخرون قريبون من ذلك.',
      many: '{n} آخر قريبون من ذلك.',
      other: '{n} آخر قريبون من ذلك.',
    },
    nobody: 'لا أحد يطابق كل ذلك. ألغِ شيئًا مما اخترت، أو اكتب أنك لا تجد نفسك.',
    near: 'قريب: {what}',
    notFetched: 'تعذّر جلب القائمة. المربعات تقود إلى صفحات بدلًا من ذلك.',
    noSignal: 'لا توجد إشارة الآن. يبقى الاختيار، ويأتي الجواب مع عودة الإشارة.',
    below: 'في الأسفل: {riders}',
    showMore: 'عرض المزيد',
    notMe: 'لست أنا',
    aside: 'صور نحّيتها جانبًا',
    asideWhy: 'على هذا الهاتف فقط. لا يُحذف شيء.',
    putBack: 'إعادة',
    own: 'هذه الصفحة لك: لا تقود إليها صفحة أخرى. من لديه عنوانها يرى هذه الصور.',
    share: 'مشاركة هذا العنوان',
    copied: 'نُسخ.',
    code: 'رمز يحمل عنوان هذه الصفحة',
  },
};
