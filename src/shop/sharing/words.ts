/** What the organiser's page says around the terms, in the service's languages. */
import type { Language } from '../pages/words/index.js';

interface ShareWords {
  readonly door: string;
  readonly password: string;
  readonly see: string;
  readonly wrong: string;
  readonly tooOften: string;
  readonly may: string;
  readonly mayNot: string;
  readonly duties: string;
  readonly sheet: string;
  readonly captions: string;
  readonly text: string;
}

export const shareWords: Readonly<Record<Language, ShareWords>> = {
  en: {
    door: 'Pictures that were shared with you',
    password: 'The password you were given',
    see: 'See the pictures',
    wrong: 'That is not the password. Ask whoever sent you the address.',
    tooOften: 'Too many tries. Wait a minute, then try again.',
    may: 'What you may do',
    mayNot: 'What you may not do',
    duties: 'What is asked of you',
    sheet: 'All on one sheet (PDF)',
    captions: 'Captions (CSV)',
    text: 'These terms (text)',
  },
  de: {
    door: 'Bilder, die für Sie bereitliegen',
    password: 'Das Passwort, das Sie bekommen haben',
    see: 'Zu den Bildern',
    wrong: 'Das ist nicht das Passwort. Fragen Sie, wer Ihnen die Adresse geschickt hat.',
    tooOften: 'Zu viele Versuche. Warten Sie eine Minute und versuchen Sie es noch einmal.',
    may: 'Was Sie damit dürfen',
    mayNot: 'Was Sie nicht dürfen',
    duties: 'Worum Sie gebeten werden',
    sheet: 'Alle auf einem Bogen (PDF)',
    captions: 'Bildunterschriften (CSV)',
    text: 'Die Bedingungen auf Englisch (Text)',
  },
  fr: {
    door: 'Des photos vous attendent',
    password: 'Le mot de passe que vous avez reçu',
    see: 'Voir les photos',
    wrong: 'Ce n’est pas le mot de passe. Demandez à qui vous a envoyé l’adresse.',
    tooOften: 'Trop d’essais. Attendez une minute, puis recommencez.',
    may: 'Ce que vous pouvez faire',
    mayNot: 'Ce que vous ne pouvez pas faire',
    duties: 'Ce qui vous est demandé',
    sheet: 'Toutes sur une planche (PDF)',
    captions: 'Légendes (CSV)',
    text: 'Ces conditions en anglais (texte)',
  },
  it: {
    door: 'Foto preparate per voi',
    password: 'La password che avete ricevuto',
    see: 'Vedere le foto',
    wrong: 'Non è la password. Chiedete a chi vi ha mandato l’indirizzo.',
    tooOften: 'Troppi tentativi. Aspettate un minuto e riprovate.',
    may: 'Che cosa potete fare',
    mayNot: 'Che cosa non potete fare',
    duties: 'Che cosa vi si chiede',
    sheet: 'Tutte su un foglio (PDF)',
    captions: 'Didascalie (CSV)',
    text: 'Queste condizioni in inglese (testo)',
  },
  es: {
    door: 'Fotos preparadas para ustedes',
    password: 'La contraseña que recibieron',
    see: 'Ver las fotos',
    wrong: 'Esa no es la contraseña. Pregunten a quien les mandó la dirección.',
    tooOften: 'Demasiados intentos. Esperen un minuto y prueben otra vez.',
    may: 'Lo que pueden hacer',
    mayNot: 'Lo que no pueden hacer',
    duties: 'Lo que se les pide',
    sheet: 'Todas en una hoja (PDF)',
    captions: 'Pies de foto (CSV)',
    text: 'Estas condiciones en inglés (texto)',
  },
  ar: {
    door: 'صور أُعدّت لكم',
    password: 'كلمة المرور التي وصلتكم',
    see: 'عرض الصور',
    wrong: 'ليست هذه كلمة المرور. اسألوا من أرسل إليكم العنوان.',
    tooOften: 'محاولات كثيرة. انتظروا دقيقة ثم حاولوا من جديد.',
    may: 'ما يُسمح لكم به',
    mayNot: 'ما لا يُسمح لكم به',
    duties: 'ما يُطلب منكم',
    sheet: 'كلها في ورقة واحدة (PDF)',
    captions: 'شروح الصور (CSV)',
    text: 'هذه الشروط بالإنجليزية (نص)',
  },
};
