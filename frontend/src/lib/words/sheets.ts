// The sentences of model sheets, fetched with their screens.
import en from "./en.sheets.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.sheets.json")] });
