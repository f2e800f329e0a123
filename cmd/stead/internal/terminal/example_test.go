package terminal_test

import (
	"os"

	"stead/cmd/stead/internal/terminal"
)

func ExampleTable() {
	terminal.Table(os.Stdout, []string{"part", ">pieces"}, [][]string{{"chain 9-speed", "2"}, {"brake pads", "12"}})
	// Output:
	// part           pieces
	// chain 9-speed       2
	// brake pads         12
}
