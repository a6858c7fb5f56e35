// The sentences of scanning and of what a code leads to, fetched with their screens.
import en from "./en.scan.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.scan.json")] });
