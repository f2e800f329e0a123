package barcode_test

import (
	"fmt"

	"stead/inventory/barcode"
)

func ExampleRead() {
	article, _ := barcode.Read("9780201379624")
	label, _ := barcode.Read("bin D2")
	fmt.Println(article.GTIN, label.Label)
	// Output: 9780201379624 bin D2
}
