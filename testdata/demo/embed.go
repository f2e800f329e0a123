// Package demo holds an invented workshop: its shelves, its wholesalers and a week of bikes. Every name in it is made up.
package demo

import "embed"

// Files are the workshop's data: shop.json, suppliers.json, parts.jsonl, offers.csv, shelf.csv, sales.csv,
// deliveries.csv, jobs.json, and in photos/ what its bikes look like, which was drawn.
//
//go:embed *.json *.jsonl *.csv photos/*.jpg
var Files embed.FS
