// Package pricelist holds invented wholesalers' lines, by language, each with what it says: the reader is scored on them.
package pricelist

import "embed"

// Files are the truth files: truth-LANGUAGE-SET.jsonl.
//
//go:embed truth-uk-*.jsonl truth-us-*.jsonl truth-de-*.jsonl truth-fr-*.jsonl truth-nl-*.jsonl truth-it-*.jsonl
var Files embed.FS
