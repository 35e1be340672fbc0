/** The organiser's terms in the gallery's languages: a template. What counts is the English text; the others say so. Rules OG12, OG33. */
import type { LawLanguage } from '../law/index.js';

export interface TermsHoles {
  readonly name: string | null;
  readonly meeting: string;
  /** `YYYY-MM-DD`; null: for as long as they like. */
  readonly until: string | null;
  readonly credit: string;
  readonly contact: string | null;
}

/** Each line may hang on what was agreed; those of `sponsors` stand where pictures may go on to them, `pass` where not. */
export interface TermsWords {
  readonly show: string;
  readonly press: string;
  readonly sponsors: string;
  readonly crop: string;
  readonly sell: string;
  readonly pass: string;
  readonly advertise: string;
  readonly change: string;
  readonly credit: string;
  readonly down: string;
  readonly rights: string;
  readonly note: string;
}

export const termsWords: Readonly<Record<LawLanguage, (holes: TermsHoles) => TermsWords>> = {
  en: ({ name, meeting, until, credit, contact }) => ({
    show: `Show them on the pages, posters and social media of ${name ?? 'the organiser'}, to tell of ${meeting} and of later meetings like it${until === null ? '' : ` until ${until}`}.`,
    press: 'Give them to the press for reports about that meeting, free of charge.',
    sponsors: 'Give them to sponsors of that meeting, for reports about it and not for their advertising.',
    crop: 'Crop them, and make them lighter or smaller.',
    sell: 'Sell them, or give them to riders in place of what riders can buy.',
    pass: 'Pass them on to sponsors: ask for a licence of their own.',
    advertise: 'Use a rider who can be told apart to advertise anything: that is for the rider to allow.',
    change: 'Change what they show, or use them to train programs that make pictures.',
    credit: `Set the credit “${credit}” beside each.`,
    down: `Take down at once what you are asked to take down${contact === null ? '' : `, and tell ${contact}`}.`,
    rights:
      'Whom a picture shows has rights of their own. Of a rider under age show no full name without written consent.',
    note: 'A template, not legal advice: check it with local law before you rely on it.',
  }),
  de: ({ name, meeting, until, credit, contact }) => ({
    show: `Sie auf Seiten, Plakaten und in sozialen Medien von ${name ?? 'Ihnen als Veranstalter'} zeigen, um von ${meeting} und späteren Veranstaltungen dieser Art zu berichten${until === null ? '' : `, bis ${until}`}.`,
    press: 'Sie der Presse für Berichte über diese Veranstaltung kostenlos geben.',
    sponsors: 'Sie Sponsoren dieser Veranstaltung geben, für Berichte darüber und nicht für deren Werbung.',
    crop: 'Sie beschneiden, heller oder kleiner machen.',
    sell: 'Sie verkaufen oder Fahrern anstelle dessen geben, was diese kaufen können.',
    pass: 'Sie an Sponsoren weitergeben: Diese brauchen eine eigene Lizenz.',
    advertise: 'Mit einem erkennbaren Fahrer für irgendetwas werben: Das erlaubt nur der Fahrer selbst.',
    change: 'Verändern, was sie zeigen, oder Programme damit trainieren, die Bilder machen.',
    credit: `Bei jedem die Nennung „${credit}“ setzen.`,
    down: `Sofort entfernen, worum gebeten wird${contact === null ? '' : `, und ${contact} Bescheid geben`}.`,
    rights:
      'Wer auf einem Bild zu sehen ist, hat eigene Rechte. Von minderjährigen Fahrern keinen vollen Namen ohne schriftliche Einwilligung.',
    note: 'Eine Übersetzung; es gilt der englische Text. Eine Vorlage, keine Rechtsberatung: am örtlichen Recht prüfen.',
  }),
  fr: ({ name, meeting, until, credit, contact }) => ({
    show: `Les montrer sur les pages, affiches et réseaux sociaux de ${name ?? 'l’organisateur'}, pour parler de ${meeting} et de rencontres ultérieures du même genre${until === null ? '' : `, jusqu’au ${until}`}.`,
    press: 'Les donner gratuitement à la presse pour des articles sur cette rencontre.',
    sponsors: 'Les donner aux sponsors de cette rencontre, pour en parler et non pour leur publicité.',
    crop: 'Les recadrer, les éclaircir ou les réduire.',
    sell: 'Les vendre, ou les donner aux pilotes à la place de ce qu’ils peuvent acheter.',
    pass: 'Les transmettre à des sponsors : il leur faut une licence à eux.',
    advertise: 'Faire de la publicité avec un pilote reconnaissable : lui seul peut le permettre.',
    change: 'Changer ce qu’elles montrent, ou en nourrir des programmes qui font des images.',
    credit: `Mettre la mention « ${credit} » à côté de chacune.`,
    down: `Retirer aussitôt ce qu’on vous demande de retirer${contact === null ? '' : `, et prévenir ${contact}`}.`,
    rights: 'Qui figure sur une photo a ses propres droits. D’un pilote mineur, pas de nom complet sans accord écrit.',
    note: 'Une traduction ; seul le texte anglais fait foi. Un modèle, pas un conseil juridique : à vérifier selon le droit local.',
  }),
  it: ({ name, meeting, until, credit, contact }) => ({
    show: `Mostrarle su pagine, manifesti e canali social di ${name ?? 'chi organizza'}, per raccontare ${meeting} e incontri successivi dello stesso genere${until === null ? '' : `, fino al ${until}`}.`,
    press: 'Darle gratis alla stampa per articoli su quell’incontro.',
    sponsors: 'Darle agli sponsor di quell’incontro, per raccontarlo e non per la loro pubblicità.',
    crop: 'Ritagliarle, schiarirle o rimpicciolirle.',
    sell: 'Venderle, o darle ai piloti al posto di ciò che possono comprare.',
    pass: 'Passarle agli sponsor: serve loro una licenza propria.',
    advertise: 'Fare pubblicità con un pilota riconoscibile: può permetterlo solo lui.',
    change: 'Cambiare ciò che mostrano, o usarle per addestrare programmi che fanno immagini.',
    credit: `Mettere la menzione «${credit}» accanto a ciascuna.`,
    down: `Togliere subito ciò che si chiede di togliere${contact === null ? '' : `, e avvisare ${contact}`}.`,
    rights:
      'Chi compare in una foto ha diritti propri. Di un pilota minorenne nessun nome completo senza consenso scritto.',
    note: 'Una traduzione; vale il testo inglese. Un modello, non un parere legale: da verificare secondo la legge locale.',
  }),
  es: ({ name, meeting, until, credit, contact }) => ({
    show: `Mostrarlas en páginas, carteles y redes sociales de ${name ?? 'quien organiza'}, para contar ${meeting} y encuentros posteriores como ese${until === null ? '' : `, hasta el ${until}`}.`,
    press: 'Darlas gratis a la prensa para informar de ese encuentro.',
    sponsors: 'Darlas a los patrocinadores de ese encuentro, para informar de él y no para su publicidad.',
    crop: 'Recortarlas, aclararlas o reducirlas.',
    sell: 'Venderlas, o darlas a los pilotos en lugar de lo que pueden comprar.',
    pass: 'Pasarlas a patrocinadores: necesitan una licencia propia.',
    advertise: 'Anunciar algo con un piloto reconocible: solo él puede permitirlo.',
    change: 'Cambiar lo que muestran, o usarlas para entrenar programas que hacen imágenes.',
    credit: `Poner la mención «${credit}» junto a cada una.`,
    down: `Retirar enseguida lo que se pida retirar${contact === null ? '' : ` y avisar a ${contact}`}.`,
    rights:
      'Quien sale en una foto tiene derechos propios. De un piloto menor, ningún nombre completo sin permiso escrito.',
    note: 'Una traducción; vale el texto inglés. Una plantilla, no consejo legal: compruébese con la ley local.',
  }),
  ar: ({ name, meeting, until, credit, contact }) => ({
    show: `عرضها في صفحات ${name ?? 'المنظِّم'} وملصقاته وحساباته الاجتماعية، للحديث عن ${meeting} وعن لقاءات لاحقة مثله${until === null ? '' : ` حتى ${until}`}.`,
    press: 'إعطاؤها للصحافة مجانًا لتقارير عن ذلك اللقاء.',
    sponsors: 'إعطاؤها لرعاة ذلك اللقاء، للحديث عنه لا لإعلاناتهم.',
    crop: 'قصّها أو تفتيحها أو تصغيرها.',
    sell: 'بيعها، أو إعطاؤها للراكبين بدلًا مما يمكنهم شراؤه.',
    pass: 'تمريرها إلى الرعاة: يحتاجون ترخيصًا خاصًا بهم.',
    advertise: 'الإعلان عن أي شيء براكب يمكن التعرّف إليه: لا يسمح بذلك إلا هو.',
    change: 'تغيير ما تُظهره، أو استعمالها لتدريب برامج تصنع الصور.',
    credit: `وضع الاسم «${credit}» بجانب كل صورة.`,
    down: `إزالة ما يُطلب إزالته فورًا${contact === null ? '' : ` وإبلاغ ${contact}`}.`,
    rights: 'لمن يظهر في صورة حقوقه. لا يُذكر اسم راكب قاصر كاملًا دون موافقة مكتوبة.',
    note: 'ترجمة؛ النص الإنجليزي هو المعتمد. نموذج وليس استشارة قانونية: يُراجع وفق القانون المحلي.',
  }),
};
