// The sentences on the app itself: installing, version, what it keeps. Fetched with the screens that say them.
import en from "./en.this-app.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.this-app.json")] });
