package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

func init() { cobra.AddTemplateFunc("listed", listed) }

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "stead",
		Short: "Plan parts for a bicycle workshop",
		Long: `Stead plans parts for a small bicycle workshop: what the job needs, what is on
the shelf, what a supplier can send and by when, what fits in its stead when the
like-for-like part cannot be had, what it costs, what the customer must agree
to, and what to order.

Without --database or DATABASE_URL it keeps its data in a private Postgres of
its own, started on demand. ` + "`stead demo`" + ` shows the whole job on an invented
workshop.`,
		Example:       "  stead demo\n  stead job show 101 --database demo\n  stead fit place 101 crank.outer-ring --database demo",
		SilenceUsage:  true,
		SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usage(cmd, fmt.Errorf("there is no command %q", args[0]))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return cmd.Help() },
	}
	root.SetFlagErrorFunc(flagError)
	root.PersistentPreRunE = checkInput
	// The template is cobra's own, but for how it lists the flags.
	root.SetUsageTemplate(regexp.MustCompile(`\.(\w+)\.FlagUsages`).ReplaceAllString(root.UsageTemplate(), "listed .$1"))
	flags := root.PersistentFlags()
	flags.String("database", "", "address of a Postgres database, or \"demo\" for the demo workshop (default $DATABASE_URL, else a private one)")
	flags.Bool("json", false, "print the answer as JSON")
	flags.String("request", "", "key of this request: the same key twice changes nothing the second time")
	root.AddCommand(
		newDemo(),
		newToday(),
		newJob(),
		newBill(),
		newPrint(),
		newPhoto(),
		newPost(),
		newCalendar(),
		newCustomer(),
		newBike(),
		newFit(),
		newMeasure(),
		newPart(),
		newScan(),
		newPlace(),
		newRule(),
		newStock(),
		newReorder(),
		newSimulate(),
		newSupplier(),
		newPricelist(),
		newDescribe(),
		newNotes(),
		newOrder(),
		newReturn(),
		newShop(),
		newPerson(),
		newServe(),
		newExport(),
		newImport(),
		newDB(),
	)
	return root
}

// group is a command that only holds others.
func group(use, short string, children ...*cobra.Command) *cobra.Command {
	cmd := &cobra.Command{Use: use, Short: short,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usage(cmd, fmt.Errorf("`stead %s` has no command %q", use, args[0]))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return cmd.Help() }}
	cmd.AddCommand(children...)
	var examples []string
	for _, child := range children {
		if child.Hidden {
			continue
		}
		examples = append(examples, exampleOf(child))
	}
	cmd.Example = strings.Join(examples, "\n")
	return cmd
}

// exampleOf is the first line of a command's example that calls it, or else its first, with the lines that continue it.
func exampleOf(cmd *cobra.Command) string {
	lines := strings.Split(cmd.Example, "\n")
	first := max(0, slices.IndexFunc(lines, func(line string) bool { return strings.Contains(line+" ", " "+cmd.Name()+" ") }))
	last := first
	for strings.HasSuffix(lines[last], `\`) {
		last++
	}
	return strings.Join(lines[first:last+1], "\n")
}
