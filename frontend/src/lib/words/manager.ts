// The sentences of the manager's board and orders, fetched with their screens.
import en from "./en.manager.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.manager.json")] });
