package main

import (
	"time"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/remember"
	"stead/inventory"
)

// asked is what the database says of a request.
type asked struct {
	Key    string     `json:"key"`
	What   string     `json:"what,omitempty"`
	Begun  *time.Time `json:"begun,omitempty"` // absent: not by this user on this machine
	Done   bool       `json:"done"`
	DoneAt *time.Time `json:"done_at,omitempty"`
}

// newDBRequest asks after changes that broke off.
func newDBRequest() *cobra.Command {
	cmd := &cobra.Command{Use: "request [KEY]", Short: "Ask whether a change that broke off was done",
		Long: `Asks the database whether a change was done, by the key that was told after the
connection was cut; without KEY, whether each change was that broke off here and
of which nobody has heard since.`,
		Example: "  stead db request", Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return exactly("KEY")(cmd, args)
		}}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		pool, err := w.open(cmd.Context())
		if err != nil {
			return err
		}
		answers := []asked{}
		for _, key := range args {
			answers = append(answers, asked{Key: key})
		}
		left, err := remember.All(requestFolder())
		if err != nil {
			return err
		}
		for _, c := range left {
			switch {
			case len(args) == 1 && c.Key == args[0]:
				answers[0].What, answers[0].Begun = c.What, &c.Begun
			case len(args) == 0 && c.Database == whereIs(pool):
				answers = append(answers, asked{Key: c.Key, What: c.What, Begun: &c.Begun})
			}
		}
		for i, a := range answers {
			r, err := inventory.AskRequest(cmd.Context(), pool, a.Key)
			if err != nil {
				return err
			}
			if r != nil {
				answers[i].What, answers[i].Done, answers[i].DoneAt = r.What, true, &r.DoneAt
			}
			remember.ForgetKey(requestFolder(), a.Key)
		}
		return show(cmd, answers, func() { printAsked(cmd, answers) })
	})
	return cmd
}

func printAsked(cmd *cobra.Command, answers []asked) {
	if len(answers) == 0 {
		say(cmd, "of every change it is known whether it was done")
	}
	for _, a := range answers {
		switch {
		case a.Done:
			say(cmd, "done on %s: %s", a.DoneAt.Format("2006-01-02 at 15:04"), a.What)
		case a.What == "":
			say(cmd, "nothing was done under %s", a.Key)
		default:
			say(cmd, "not done: %s", a.What)
		}
	}
}
