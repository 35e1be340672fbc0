/** Lines to write or paste; a file dropped on them, or chosen, becomes lines too. */
import { type DragEvent, useState } from 'react';
import { desk } from '../api/client.js';

export interface TableFieldProps {
  readonly id: string;
  readonly rows: number;
  readonly text: string;
  readonly setText: (text: string) => void;
  readonly placeholder: string;
}

export function TableField({ id, rows, text, setText, placeholder }: TableFieldProps) {
  const [note, setNote] = useState<string | null>(null);
  const take = (file: File | undefined) => {
    if (!file) return;
    desk.table(file).then(
      (table) => {
        setText(table.text);
        setNote(table.note);
      },
      (error: unknown) => setNote(error instanceof Error ? error.message : String(error)),
    );
  };
  const drop = (event: DragEvent) => {
    if (event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    take(event.dataTransfer.files[0]);
  };
  return (
    <>
      <textarea
        id={id}
        rows={rows}
        spellCheck={false}
        value={text}
        placeholder={placeholder}
        onChange={(event) => setText(event.target.value)}
        onDragOver={(event) => event.preventDefault()}
        onDrop={drop}
      />
      <p className="note">
        <label htmlFor={`${id}-file`}>Or a file, XLSX, CSV or text; it can be dropped on the lines:</label>{' '}
        <input
          id={`${id}-file`}
          type="file"
          accept=".xlsx,.csv,.tsv,.txt"
          onChange={(event) => {
            take(event.target.files?.[0]);
            event.target.value = '';
          }}
        />
      </p>
      {note && (
        <p className="note" role="status">
          {note}
        </p>
      )}
    </>
  );
}
