// The sentences of the editor of job templates, fetched with its screens and not with the first one.
import en from "./en.editor.json";
import enFields from "./en.editor-fields.json";
import { addWords } from "./words.svelte";

addWords(
  { ...en, ...enFields },
  { de: [() => import("./de.editor.json"), () => import("./de.editor-fields.json")] },
);
