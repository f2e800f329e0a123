package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "stead",
		Short: "Plan parts for a bicycle workshop: what fits, what it costs, when it is here, what to order",
		Long: `Stead plans parts for a small bicycle workshop: what the job needs, what is on
the shelf, what a supplier can send and by when, what fits in its stead when the
like-for-like part cannot be had, what it costs, what the customer must agree to,
and what to order.

Without --database or DATABASE_URL it keeps its data in a private Postgres of its
own, started on demand. ` + "`stead demo`" + ` shows the whole job on an invented workshop.`,
		Example:       "  stead demo\n  stead job show 101 --database demo\n  stead fit --place crank.outer-ring --job 101 --database demo",
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
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return usage(cmd, err) })
	flags := root.PersistentFlags()
	flags.String("database", "", "address of a Postgres database, or \"demo\" for the demo workshop (default $DATABASE_URL, else a private one)")
	flags.Bool("json", false, "print the answer as JSON")
	flags.String("request", "", "key of this request: the same key twice changes nothing the second time")
	root.AddCommand(
		newDemo(),
		newJob(),
		newFit(),
		newPart(),
		newPlace(),
		newStock(),
		newSupplier(),
		newOrder(),
		newShop(),
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
	return cmd
}
