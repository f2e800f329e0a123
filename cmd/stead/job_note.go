package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
	"stead/substitution/inspection/note"
)

func newJobNote() *cobra.Command {
	var yes bool
	cmd := &cobra.Command{Use: "note JOB [TEXT]", Short: "Read what was said at the bench into findings", Args: atLeast("JOB"),
		Long: `Reads a note as it was dictated or typed (TEXT, or standard input) and shows
what it says: words, place, what was found, what the rules propose, facts of
what is fitted against the record, and what was not read. Nothing is kept until
--yes, or one by one where somebody sits at the terminal. What is kept joins
what was read before; the whole note stays with the job.`,
		Example: "  stead job note 101 \"chain's at point nine, big ring's hooked\"\n  stead job note 104 --yes < dictated.txt"}
	cmd.Flags().BoolVar(&yes, "yes", false, "keep all that was read")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		said, err := noteSaid(cmd, args[1:])
		if err != nil {
			return err
		}
		v, err := desk.LoadNote(cmd.Context(), w, id, said)
		if err != nil {
			return err
		}
		if asJSON, _ := cmd.Flags().GetBool("json"); !asJSON {
			printNoteView(cmd, v)
		}
		keep := v.Reading
		if !yes {
			keep.Findings, keep.Fitted = nil, nil
			if asJSON, _ := cmd.Flags().GetBool("json"); !asJSON && len(args) > 1 && term.IsTerminal(int(os.Stdin.Fd())) {
				keep = askEach(cmd, v.Reading)
			}
		}
		if len(keep.Findings)+len(keep.Fitted) == 0 {
			return show(cmd, v, func() {
				if len(v.Findings)+len(v.Fitted) > 0 && !yes {
					say(cmd, "\nnothing is kept: --yes keeps all of it")
				} else {
					say(cmd, "\nnothing is kept")
				}
			})
		}
		found, err := keepNote(cmd, w, id, said, keep)
		if err != nil {
			return err
		}
		v.Kept = true
		return show(cmd, v, func() {
			say(cmd, "\nKept")
			for _, f := range found {
				printFinding(cmd, desk.TellFinding(f.Finding))
			}
			for _, f := range keep.Fitted {
				say(cmd, "  %s", desk.SiteWords(f.Place)+": "+desk.FittedSays(f))
			}
		})
	})
	return cmd
}

// noteSaid is the note, from the command's words or from standard input.
func noteSaid(cmd *cobra.Command, words []string) (string, error) {
	said := strings.Join(words, " ")
	if len(words) == 0 {
		text, err := io.ReadAll(io.LimitReader(cmd.InOrStdin(), longestNote))
		if err != nil {
			return "", fmt.Errorf("read the note: %w", err)
		}
		said = strings.ToValidUTF8(string(text), "\ufffd")
	}
	if said = strings.TrimSpace(strings.ReplaceAll(said, "\x00", "")); said == "" {
		return "", usage(cmd, errors.New("the note is empty: say what was found, as TEXT or on standard input"))
	}
	return said, nil
}

// keepNote keeps what was confirmed, in one change.
func keepNote(cmd *cobra.Command, w *workshop, id int64, said string, r note.Reading) ([]pricing.Found, error) {
	return change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]pricing.Found, error) {
		return pricing.KeepNote(ctx, tx, id, pricing.Note{Said: said, SaidAt: now(), Findings: r.Findings, Fitted: r.Fitted, Unread: r.Unread})
	})
}

// askEach asks of each thing that was read whether to keep it. The end of the input keeps no more.
func askEach(cmd *cobra.Command, r note.Reading) note.Reading {
	in := bufio.NewReader(cmd.InOrStdin())
	keep := func(words string) bool {
		fmt.Fprintf(cmd.ErrOrStderr(), "keep %s? [y/n] ", words)
		answer, _ := in.ReadString('\n')
		answer = strings.ToLower(strings.TrimSpace(answer))
		return answer == "y" || answer == "yes"
	}
	out := note.Reading{Unread: r.Unread}
	for _, f := range r.Findings {
		if keep(desk.SiteWords(f.Place) + ": " + desk.FindingSays(f)) {
			out.Findings = append(out.Findings, f)
		}
	}
	for _, f := range r.Fitted {
		if keep(desk.SiteWords(f.Place) + ": " + desk.FittedSays(f)) {
			out.Fitted = append(out.Fitted, f)
		}
	}
	return out
}

// printNoteView shows what was read as words, place, what they say and what the rules propose; then what was not read.
func printNoteView(cmd *cobra.Command, v desk.Note) {
	var rows [][]string
	for _, f := range v.Findings {
		rows = append(rows, []string{f.Words, desk.SiteWords(f.Place), desk.FindingSays(f.Finding), f.Proposes()})
	}
	if len(rows) > 0 {
		terminal.Table(cmd.OutOrStdout(), []string{"WORDS", "PLACE", "SAYS", "THE RULES PROPOSE"}, rows)
	}
	for _, f := range v.Findings {
		for _, c := range f.ComesTo.Contradictions {
			say(cmd, "  %s: %s", desk.SiteWords(f.Place), c.Words)
		}
	}
	rows = nil
	for _, f := range v.Fitted {
		rows = append(rows, []string{f.Words, desk.SiteWords(f.Place), desk.FittedSays(f.Fitted), f.RecordWords()})
	}
	if len(rows) > 0 {
		terminal.Table(cmd.OutOrStdout(), []string{"WORDS", "PLACE", "SAYS", "ON RECORD"}, rows)
	}
	for _, words := range v.Unread {
		say(cmd, "  not read: %s", words)
	}
	for _, a := range v.Asks {
		say(cmd, "  %s: %s", a.Words, a.Question)
	}
}

// newNotesWords lists and takes the shop's own words at the bench.
func newNotesWords() *cobra.Command {
	cmd := &cobra.Command{Use: "words [WORD=MEANING …]", Short: "List the shop's own words at the bench, or say what they mean",
		Long: `Lists the shop's own words at the bench, one WORD=MEANING a line, or keeps what
words mean that were not read. MEANING is a place, a phrase that is known
(gritty, big ring), or "ignore".`,
		Example: "  stead notes words\n  stead notes words donk=bottom-bracket clarty=gritty", Args: cobra.ArbitraryArgs}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		type told struct {
			Word    string `json:"word"`
			Meaning string `json:"meaning"`
		}
		var answers []told
		for _, arg := range args {
			word, meaning, err := ownWord(arg)
			if err != nil {
				return usage(cmd, err)
			}
			answers = append(answers, told{word, meaning})
		}
		if len(answers) == 0 {
			words, err := pricing.NoteWords(cmd.Context(), w)
			if err != nil {
				return err
			}
			return show(cmd, words, func() {
				for _, word := range slices.Sorted(maps.Keys(words)) {
					say(cmd, "%s=%s", word, words[word])
				}
			})
		}
		answers, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]told, error) {
			for _, a := range answers {
				if err := pricing.TellNoteWord(ctx, tx, a.Word, a.Meaning, now()); err != nil {
					return nil, err
				}
			}
			return answers, nil
		})
		if err != nil {
			return err
		}
		return show(cmd, answers, func() {
			for _, a := range answers {
				say(cmd, "%s means %s", a.Word, a.Meaning)
			}
		})
	})
	return cmd
}

// ownWords reads lines of WORD=MEANING; empty lines and those that begin with # say nothing.
func ownWords(text string) (note.Words, error) {
	words := note.Words{}
	number := 0
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		number++
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		word, meaning, err := ownWord(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", number, err)
		}
		words[word] = meaning
	}
	return words, nil
}

// ownWord reads "donk=bottom-bracket".
func ownWord(text string) (word, meaning string, err error) {
	word, meaning, ok := strings.Cut(text, "=")
	word, meaning = strings.TrimSpace(word), strings.TrimSpace(meaning)
	if !ok || word == "" || meaning == "" {
		return "", "", fmt.Errorf("%q gives no meaning to a word: write WORD=MEANING, such as donk=bottom-bracket", text)
	}
	return word, meaning, nil
}
