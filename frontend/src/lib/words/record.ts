// The sentences of meters and records, fetched with their screens.
import en from "./en.record.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.record.json")] });
