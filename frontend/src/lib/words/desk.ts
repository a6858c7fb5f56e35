// The sentences of the desk, fetched with its screens and not with the first one.
import en from "./en.desk.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.desk.json")] });
