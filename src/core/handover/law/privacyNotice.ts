/**
 * What riders are told about their pictures, as a template: who has them, why, how long, and how to object. What it has to say is
 * Regulation (EU) 2016/679, art. 13 and 14, and the United Kingdom's own version of it. Check with local law. Rule LW5.
 */
import { CHECK_WITH_LOCAL_LAW, lawLanguageOf } from './licences.js';
import type { KeepDays, LawAbout, LawLanguage } from './types.js';

type Holes = { readonly who: string; readonly contact: string; readonly meeting: string; readonly days: number };

const NOTICES: Readonly<Record<LawLanguage, (holes: Holes) => readonly string[]>> = {
  en: ({ who, contact, meeting, days }) => [
    `${who} took pictures at ${meeting} and shows proofs here so that riders find and buy theirs. Ask ${contact} about anything below.`,
    'The ground for it is the legitimate interest in reporting on the meeting and selling pictures to those in them. Nobody has to order.',
    'Bikes and clothing are compared within this meeting to bring a rider’s pictures together. No face is recognised. No page counts or follows visitors.',
    `Proofs stay up for ${days} days at most. Name and address of an order are kept as long as tax law wants papers kept, and used for nothing else.`,
    'Pictures are taken down when somebody in them, or a parent, asks: say which, no reason is needed. They do not come back.',
    'You may ask what is kept of you, have it mended or erased, object, and complain to the data protection authority of your country.',
  ],
  de: ({ who, contact, meeting, days }) => [
    `${who} hat bei ${meeting} fotografiert und zeigt hier Probebilder, damit Fahrer ihre finden und bestellen. Fragen dazu an ${contact}.`,
    'Grundlage ist das berechtigte Interesse, über die Veranstaltung zu berichten und Bilder an die Abgebildeten zu verkaufen. Niemand muss bestellen.',
    'Motorräder und Kleidung werden innerhalb dieser Veranstaltung verglichen, um die Bilder eines Fahrers zusammenzubringen. Gesichter werden nicht erkannt. Keine Seite zählt oder verfolgt Besucher.',
    `Probebilder stehen höchstens ${days} Tage. Name und Anschrift einer Bestellung bleiben, solange das Steuerrecht Belege verlangt, und dienen nichts anderem.`,
    'Bilder werden entfernt, wenn jemand, der darauf ist, oder ein Elternteil darum bittet: welche, genügt, ein Grund ist nicht nötig. Sie kommen nicht wieder.',
    'Sie können Auskunft, Berichtigung oder Löschung verlangen, widersprechen und sich bei der Datenschutzaufsicht Ihres Landes beschweren.',
  ],
  fr: ({ who, contact, meeting, days }) => [
    `${who} a photographié ${meeting} et montre ici des épreuves pour que les pilotes trouvent et commandent les leurs. Questions : ${contact}.`,
    'Le fondement est l’intérêt légitime à rendre compte de la rencontre et à vendre les photos à ceux qui y figurent. Personne n’est tenu de commander.',
    'Motos et tenues sont comparées au sein de cette rencontre pour réunir les photos d’un pilote. Aucun visage n’est reconnu. Aucune page ne compte ni ne suit les visiteurs.',
    `Les épreuves restent ${days} jours au plus. Nom et adresse d’une commande sont gardés tant que le droit fiscal l’exige, et ne servent à rien d’autre.`,
    'Une photo est retirée quand quelqu’un qui y figure, ou un parent, le demande : dire laquelle suffit, sans motif. Elle ne revient pas.',
    'Vous pouvez demander ce qui est gardé de vous, le faire corriger ou effacer, vous opposer et saisir l’autorité de protection des données de votre pays.',
  ],
  it: ({ who, contact, meeting, days }) => [
    `${who} ha fotografato ${meeting} e mostra qui delle prove perché i piloti trovino e ordinino le proprie. Domande: ${contact}.`,
    'La base è il legittimo interesse a dare notizia dell’incontro e a vendere le foto a chi vi compare. Nessuno è tenuto a ordinare.',
    'Moto e abbigliamento sono confrontati entro questo incontro per riunire le foto di un pilota. Nessun volto è riconosciuto. Nessuna pagina conta o segue i visitatori.',
    `Le prove restano al massimo ${days} giorni. Nome e indirizzo di un ordine restano finché la legge fiscale lo chiede, e non servono ad altro.`,
    'Una foto viene tolta quando lo chiede chi vi compare, o un genitore: basta dire quale, senza motivo. Non ritorna.',
    'Si può chiedere che cosa è conservato, farlo correggere o cancellare, opporsi e reclamare all’autorità per la protezione dei dati del proprio paese.',
  ],
  es: ({ who, contact, meeting, days }) => [
    `${who} fotografió ${meeting} y muestra aquí pruebas para que los pilotos encuentren y pidan las suyas. Preguntas: ${contact}.`,
    'La base es el interés legítimo en informar del encuentro y vender las fotos a quienes salen en ellas. Nadie está obligado a pedir.',
    'Motos y ropa se comparan dentro de este encuentro para reunir las fotos de un piloto. No se reconoce ninguna cara. Ninguna página cuenta ni sigue a los visitantes.',
    `Las pruebas quedan ${days} días como mucho. Nombre y dirección de un pedido se guardan mientras la ley fiscal lo exija, y no sirven para nada más.`,
    'Una foto se retira cuando lo pide quien sale en ella, o su padre o madre: basta decir cuál, sin motivo. No vuelve.',
    'Puede pedir qué se guarda de usted, corregirlo o borrarlo, oponerse y reclamar ante la autoridad de protección de datos de su país.',
  ],
  ar: ({ who, contact, meeting, days }) => [
    `صوّر ${who} في ${meeting} ويعرض هنا صورًا أولية ليجد الراكبون صورهم ويطلبوها. للأسئلة: ${contact}.`,
    'الأساس هو المصلحة المشروعة في التغطية وبيع الصور لمن فيها. لا أحد ملزم بالطلب.',
    'تُقارن الدراجات والملابس داخل هذا اللقاء فقط لجمع صور الراكب. لا يُتعرّف إلى أي وجه، ولا تعدّ أي صفحة الزوار ولا تتبعهم.',
    `تبقى الصور الأولية ${days} يومًا على الأكثر. يُحفظ اسم الطلب وعنوانه ما دام قانون الضرائب يطلب الأوراق، ولا يُستعملان لغير ذلك.`,
    'تُزال الصورة إذا طلب ذلك من يظهر فيها أو أحد والديه: يكفي تحديدها دون سبب، ولا تعود.',
    'لك أن تسأل عما يُحفظ عنك، وأن تطلب تصحيحه أو محوه، وأن تعترض وأن تشتكي إلى سلطة حماية البيانات في بلدك.',
  ],
};

export const PRIVACY_TITLE: Readonly<Record<LawLanguage, string>> = {
  en: 'Privacy',
  de: 'Datenschutz',
  fr: 'Vie privée',
  it: 'Privacy e dati',
  es: 'Privacidad',
  ar: 'الخصوصية',
};

/** Paragraphs; the mark that it is a template is for the photographer. */
export function privacyNotice(
  language: string,
  about: LawAbout,
  days: Pick<KeepDays, 'galleries'>,
): { readonly title: string; readonly mark: string; readonly paragraphs: readonly string[] } {
  const spoken = lawLanguageOf(language);
  const who = about.creator ?? about.credit ?? about.name;
  const paragraphs = NOTICES[spoken]({
    who,
    contact: about.contact ?? who,
    meeting: about.name,
    days: days.galleries,
  });
  return { title: PRIVACY_TITLE[spoken], mark: CHECK_WITH_LOCAL_LAW[spoken], paragraphs };
}
