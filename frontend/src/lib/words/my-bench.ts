// The sentences of my bench, of taking, handing over and notes, fetched with their screens.
import en from "./en.my-bench.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.my-bench.json")] });
