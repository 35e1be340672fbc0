/**
 * What organisers write in timetables and entry lists, in English, German, French, Italian and Spanish. Written as `plain`
 * leaves it: small letters, no accents. General dictionaries' words; no organiser's sheet was copied.
 */

/** Small letters without accents or signs, single spaces. */
export const plain = (text: string): string =>
  text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

const set = (words: string): ReadonlySet<string> => new Set(words.split(',').map((word) => word.trim()));

export type TimetableColumn = 'session' | 'group' | 'start' | 'end' | 'length' | 'date' | 'notes';

/** Names of columns. Of a row most of whose cells are such names, they are taken; one alone is no header. */
export const TIMETABLE_COLUMNS: Readonly<Record<TimetableColumn, ReadonlySet<string>>> = {
  session: set(
    'session, sessions, session no, session name, no, nr, num, number, heat, stint, turn, lauf, turns, sitzung, durchgang, manche, serie, n, tour, turno, sessione, sesion, tanda, manga',
  ),
  group: set(
    'group, groups, class, classes, category, level, gruppe, gruppen, klasse, kategorie, groupe, groupes, classe, categorie, niveau, gruppo, gruppi, categoria, livello, grupo, grupos, clase, clases, nivel',
  ),
  start: set(
    'start, starts, from, begin, begins, time, times, start time, on track, out, beginn, von, ab, anfang, uhrzeit, zeit, startzeit, debut, de, heure, horaire, heures, depart, inizio, da, ora, orario, dalle, partenza, inicio, desde, hora, horario, comienzo, salida',
  ),
  end: set(
    'end, ends, to, until, till, finish, stop, end time, in, ende, bis, endzeit, schluss, fin, a, jusqu a, arrivee, fine, alle, termine, hasta, final, termino',
  ),
  length: set(
    'length, duration, min, mins, minutes, dauer, lange, laenge, minuten, duree, temps, durata, minuti, duracion, minutos',
  ),
  date: set('date, day, datum, tag, jour, data, giorno, fecha, dia, wochentag, weekday'),
  notes: set(
    'note, notes, remark, remarks, comment, comments, info, information, what, activity, bemerkung, bemerkungen, hinweis, notiz, remarque, remarques, nota, osservazioni, observaciones, programme, program, programm, programma, programa',
  ),
};

export type EntryColumn = 'event' | 'class' | 'number' | 'name' | 'first' | 'last' | 'contact' | 'booked' | 'wants';

export const ENTRY_COLUMNS: Readonly<Record<EntryColumn, ReadonlySet<string>>> = {
  event: set('event, meeting, round, veranstaltung, lauf, rennen, evenement, epreuve, evento, prova, prueba'),
  class: TIMETABLE_COLUMNS.group,
  number: set(
    'number, no, nr, num, race number, race no, start number, bike number, plate, startnummer, nummer, startnr, numero, n, dossard, numero de course, numero di gara, dorsal, pettorale',
  ),
  name: set('name, rider, rider name, full name, driver, fahrer, fahrerin, nom, pilote, pilota, nome, nombre, piloto'),
  first: set('first name, forename, given name, vorname, prenom, nome proprio, nombre de pila'),
  last: set('last name, surname, family name, nachname, familienname, nom de famille, cognome, apellido, apellidos'),
  contact: set(
    'contact, mail, email, e mail, phone, telephone, mobile, telefon, handy, kontakt, courriel, telefono, correo, cellulare, movil',
  ),
  booked: set(
    'booked, booking, pre booked, prebooked, photos booked, pictures booked, photo booking, photos ordered, pre order, preorder, gebucht, vorgebucht, bestellt, fotos gebucht, fotos bestellt, reserve, photos reservees, prenotato, foto prenotate, reservado, fotos reservadas',
  ),
  wants: set(
    'wants, wish, wishes, photo, photos, pictures, package, photo package, photo wishes, wunsch, wunsche, fotos, bilder, fotopaket, souhait, souhaits, desideri, richieste, desea, deseos',
  ),
};

const NOTHING = set(
  'no, n, none, nothing, no thanks, no thank you, not booked, false, 0, nein, keine, kein, keiner, nichts, nein danke, nicht gebucht, falsch, non, aucun, aucune, rien, non merci, pas reserve, faux, nessuno, nessuna, niente, no grazie, non prenotato, falso, ninguno, ninguna, nada, no gracias, no reservado',
);

/** A cell that says in full that nothing was booked: `no`, a stroke, a cross. `no head-on` is a wish. */
export const saysNo = (cell: string): boolean => /^[-–—/✗✘]+$/u.test(cell.trim()) || NOTHING.has(plain(cell));

const phrase = (words: string): RegExp =>
  new RegExp(`(?<![\\p{L}\\p{N}])(?:${words.replaceAll(', ', '|')})(?![\\p{L}\\p{N}])`, 'u');

/** Against `plain` text. */
export const PHRASES = {
  lunch: phrase(
    'lunch, lunch ?break, mittag, mittagspause, mittagessen, dejeuner, midi, repas, pranzo, almuerzo, comida',
  ),
  pause: phrase('break, tea break, coffee, pause, pausa, interval, track closed, kaffeepause, descanso, intervallo'),
  /** After it nobody rides. */
  end: phrase(
    'curfew, track closes, end of (?:the )?day, end of track time, finish, close, ende, fahrende, schluss, fin, fin de journee, fine, fine giornata, fin de jornada, chequered flag',
  ),
  /** On the programme, off the track. */
  elsewhere: phrase(
    'sign on, registration, briefing, noise test, noise testing, scrutineering, gates open, welcome, podium, prizes, prize giving, anmeldung, fahrerbesprechung, einweisung, abnahme, lautstarkemessung, gerauschmessung, siegerehrung, inscription, inscriptions, accueil, controle technique, controle sonore, podiums, iscrizioni, verifiche, verifiche tecniche, fonometro, premiazione, inscripcion, verificaciones, sonometria, entrega de premios',
  ),
  sighting: phrase(
    'sighting(?: laps?)?, familiari[sz]ation(?: laps?)?, einfuhrungsrunden?, besichtigungsrunden?, einfuhrung, tours? de reconnaissance, reconnaissance, giri di ricognizione, giro di ricognizione, ricognizione, vueltas? de reconocimiento, reconocimiento',
  ),
  openPitLane: phrase(
    'open pit ?lane, open pits?, open track, freies fahren, offene boxengasse, pit ?lane ouverte, roulage libre, piste libre, pit ?lane aperta, boxes abiertos, pit ?lane abierto',
  ),
} as const;

/** Says what a session is for, and not whose it is. */
export const FILLERS = phrase(
  'sessions?, runs?, turns?, stints?, heats?, free practice, practice, qualifying, qualification, race, warm ?up, on track, laufe?, durchgang, freies training, zeittraining, training, qualifikation, rennen, sitzung, series?, manche, tours?, essais libres, essais chronos, essais, qualifications, course, turno, turni, sessione, prove libere, prove, qualifica, qualifiche, gara, sesion, tandas?, mangas?, entrenamientos? libres?, clasificacion, carrera',
);

/** Stands before a letter or a figure that tells the group. */
export const GROUP_WORDS = phrase('groups?, gruppen?, groupes?, gruppi, gruppo, grupos?, class, klasse, classe, clase');

/** From January. Whole words only: `2 Novice` is no day of November. */
export const MONTHS: readonly ReadonlySet<string>[] = [
  set('january, jan, januar, janner, janvier, janv, gennaio, gen, enero, ene'),
  set('february, feb, februar, fevrier, fevr, fev, febbraio, febrero'),
  set('march, mar, marz, maerz, mars, marzo'),
  set('april, apr, avril, avr, aprile, abril, abr'),
  set('may, mai, maggio, mag, mayo'),
  set('june, jun, juni, juin, giugno, giu, junio'),
  set('july, jul, juli, juillet, juil, luglio, lug, julio'),
  set('august, aug, aout, agosto, ago'),
  set('september, sep, sept, septembre, settembre, set, septiembre'),
  set('october, oct, oktober, okt, octobre, ottobre, ott, octubre'),
  set('november, nov, novembre, noviembre'),
  set('december, dec, dezember, dez, decembre, dicembre, dic, diciembre'),
];

/** From Monday. */
export const WEEKDAYS: readonly ReadonlySet<string>[] = [
  set('monday, mon, montag, mo, lundi, lun, lunedi, lunes'),
  set('tuesday, tue, tues, dienstag, di, mardi, martedi, martes'),
  set('wednesday, wed, mittwoch, mi, mercredi, mer, mercoledi, miercoles'),
  set('thursday, thu, thur, thurs, donnerstag, do, jeudi, jeu, giovedi, gio, jueves, jue'),
  set('friday, fri, freitag, fr, vendredi, ven, venerdi, viernes, vie'),
  set('saturday, sat, samstag, sonnabend, sa, samedi, sam, sabato, sab, sabado'),
  set('sunday, sun, sonntag, so, dimanche, dim, domenica, dom, domingo'),
];

export const DAY_WORDS = /^(?:day|tag|jour|giorno|dia) (\d)$/;
