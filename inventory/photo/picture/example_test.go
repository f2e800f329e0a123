package picture_test

import (
	"fmt"
	"strings"

	"stead/inventory/photo/picture"
)

func ExampleRead() {
	_, err := picture.Read(strings.NewReader("Dear all,\nhere is the photo of the fork."))
	fmt.Println(err)
	// Output: this is no photo that can be read: it is a JPEG, PNG, WebP or GIF file
}
