import svelte from "eslint-plugin-svelte";
import ts from "typescript-eslint";

export default ts.config(
  {
    ignores: [
      "dist",
      "src/lib/api/schema.d.ts",
      "eslint.config.js",
      ".size-limit.js",
      "build-tools/*.mjs",
      "public/*.js",
    ],
  },
  ...ts.configs.recommendedTypeChecked,
  ...svelte.configs.recommended,
  {
    languageOptions: {
      parserOptions: {
        project: ["./tsconfig.json", "./tsconfig.worker.json"],
        extraFileExtensions: [".svelte"],
        tsconfigRootDir: import.meta.dirname,
      },
    },
  },
  { files: ["**/*.svelte", "**/*.svelte.ts"], languageOptions: { parserOptions: { parser: ts.parser } } },
  {
    rules: {
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
      // Our addresses are plain: the router takes every link below /app.
      "svelte/no-navigation-without-resolve": "off",
    },
  },
);
