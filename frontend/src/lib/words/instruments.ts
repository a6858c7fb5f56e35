// The sentences on instruments that offer their readings, fetched with what shows them.
import en from "./en.instruments.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.instruments.json")] });
