// Package demo holds an invented workshop: its shelves, its wholesalers and a week of bikes. Every name in it is made up.
package demo

import "embed"

// Files are the workshop's data: shop.json, suppliers.json, parts.jsonl, offers.csv, shelf.csv, deliveries.csv, jobs.json.
//
//go:embed *.json *.jsonl *.csv
var Files embed.FS
