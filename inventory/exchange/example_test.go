package exchange_test

import (
	"fmt"
	"strings"

	"stead/inventory/exchange"
)

// A spreadsheet runs what begins like a formula, so that such a text is written with an apostrophe, and read without it.
func ExampleTable_Write() {
	bins := exchange.Table{File: "bins.csv", Columns: []string{"bin", "note"}, Must: []string{"bin"}}
	var file strings.Builder
	err := bins.Write(&file, [][]string{{"A1", "=left of the door"}})
	// without the mark that tells spreadsheets of UTF-8, and with their ends of lines made one character
	fmt.Println(strings.NewReplacer("\ufeff", "", "\r", "").Replace(file.String()), err)
	// Output:
	// bin,note
	// A1,'=left of the door
	//  <nil>
}
