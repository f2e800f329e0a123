package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/substitution"
	"stead/substitution/inspection/note"
)

// longestNote is how long a line of a file of notes may be.
const longestNote = 8 << 20

// newNotes needs no database: each note brings what is on record of its bike.
func newNotes() *cobra.Command {
	var file, own string
	cmd := &cobra.Command{Use: "notes", Short: "Read a file of bench notes into findings and facts", Args: exactly(),
		Long: `Reads bench notes, one JSON object a line: {"id": …, "note": "…", "fitted":
{PLACE: {DIMENSION: VALUE}}}, where fitted is what is on record of the bike and
may be left out. With --json it answers each line with one line: the findings
with the words that say them, facts of what is fitted, and what was not read.
A line that is no note is answered with its error; the others are read.`,
		Example: "  stead notes --file notes.jsonl --json\n  stead notes words > own.words\n  stead notes --file notes.jsonl --json --words own.words"}
	cmd.Flags().StringVar(&file, "file", "", "file of notes, one a line (- is standard input)")
	cmd.Flags().StringVar(&own, "words", "", "file with a shop's own words, one WORD=MEANING a line")
	cmd.AddCommand(newNotesWords())
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		if file == "" {
			return usage(cmd, errors.New("--file is needed: which notes to read"))
		}
		reader, err := noteReader(own)
		if err != nil {
			return err
		}
		in := cmd.InOrStdin()
		if file != "-" {
			f, err := os.Open(file)
			if err != nil {
				return fmt.Errorf("read the notes: %w", err)
			}
			defer f.Close()
			in = f
		}
		asJSON, _ := cmd.Flags().GetBool("json")
		return readNotes(reader, in, cmd.OutOrStdout(), asJSON)
	}
	return cmd
}

// noteReader knows the shop's own words of a file beside the trade's.
func noteReader(file string) (*note.Reader, error) {
	var words note.Words
	if file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, fmt.Errorf("read the words: %w", err)
		}
		if words, err = ownWords(string(text)); err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
	}
	return note.NewReader(words)
}

// noteLine is a line of a file of notes.
type noteLine struct {
	ID     json.RawMessage            `json:"id"`
	Note   *string                    `json:"note"`
	Fitted map[string]json.RawMessage `json:"fitted"`
}

// noteAnswer is the answer to it.
type noteAnswer struct {
	ID json.RawMessage `json:"id"`
	note.Reading
	Error string `json:"error,omitempty"`
}

// readNotes answers each line with one; an empty line has no answer.
func readNotes(reader *note.Reader, in io.Reader, out io.Writer, asJSON bool) error {
	lines := bufio.NewReaderSize(in, 64<<10)
	answers := bufio.NewWriterSize(out, 64<<10)
	enc := json.NewEncoder(answers)
	enc.SetEscapeHTML(false)
	for n := 1; ; n++ {
		line, err := noteText(lines)
		if err != nil && !errors.Is(err, io.EOF) {
			return errors.Join(fmt.Errorf("read the notes: %w", err), answers.Flush())
		}
		if text := bytes.TrimSpace(bytes.TrimPrefix(line, []byte("\ufeff"))); len(text) > 0 {
			answer := answerNote(reader, n, text)
			if asJSON {
				if err := enc.Encode(answer); err != nil {
					return fmt.Errorf("write the answers: %w", err)
				}
			} else {
				printNote(answers, answer)
			}
		}
		if err != nil {
			if err := answers.Flush(); err != nil {
				return fmt.Errorf("write the answers: %w", err)
			}
			return nil
		}
	}
}

// noteText is the next line; of one that is too long only its beginning, which is then no JSON.
func noteText(lines *bufio.Reader) ([]byte, error) {
	var out []byte
	for {
		part, err := lines.ReadSlice('\n')
		if len(out) < longestNote {
			out = append(out, part...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return out, err
		}
	}
}

// answerNote reads one line.
func answerNote(reader *note.Reader, n int, text []byte) noteAnswer {
	var line noteLine
	err := json.Unmarshal(text, &line)
	if err == nil && line.Note == nil {
		err = errors.New(`it has no "note"`)
	}
	if line.ID == nil || !json.Valid(line.ID) {
		line.ID = json.RawMessage("null")
	}
	if err != nil {
		unread := strings.ToValidUTF8(string(text), "\ufffd")
		if line.Note != nil {
			unread = *line.Note
		}
		return noteAnswer{ID: line.ID, Reading: note.Reading{Findings: []note.Finding{}, Fitted: []note.Fitted{}, Unread: []string{unread}},
			Error: fmt.Sprintf("line %d is no note: %v; write {\"id\": …, \"note\": \"…\", \"fitted\": {…}}", n, err)}
	}
	return noteAnswer{ID: line.ID, Reading: reader.Read(*line.Note, recordOf(line.Fitted))}
}

// recordOf is what is on record, place by place. What is not of a place or a dimension that we know says nothing.
func recordOf(fitted map[string]json.RawMessage) substitution.Build {
	record := substitution.Build{}
	for name, dims := range fitted {
		site, err := substitution.SiteOf(substitution.Place(name))
		if err != nil {
			continue
		}
		record[site.Place] = nil
		var values map[string]substitution.Value
		if json.Unmarshal(dims, &values) != nil || len(values) == 0 {
			continue
		}
		part, err := substitution.Part{Family: site.Family, Spec: substitution.MakeSpec(values, nil, nil)}.Check()
		if err == nil {
			record[site.Place] = &part
		}
	}
	return record
}

// printNote sets an answer for a person.
func printNote(out io.Writer, a noteAnswer) {
	fmt.Fprintf(out, "note %s\n", a.ID)
	if a.Error != "" {
		fmt.Fprintln(out, terminal.Wrap("  ", a.Error))
	}
	printReading(out, a.Reading)
	fmt.Fprintln(out)
}

// printReading shows what was read as words, place and what they say, then what was not read.
func printReading(out io.Writer, r note.Reading) {
	var rows [][]string
	for _, f := range r.Findings {
		rows = append(rows, []string{f.Words, desk.SiteWords(f.Place), desk.FindingSays(f)})
	}
	for _, f := range r.Fitted {
		rows = append(rows, []string{f.Words, desk.SiteWords(f.Place), desk.FittedSays(f)})
	}
	if len(rows) > 0 {
		terminal.Table(out, []string{"WORDS", "PLACE", "SAYS"}, rows)
	}
	for _, words := range r.Unread {
		fmt.Fprintln(out, terminal.Wrap("  ", "not read: "+words))
	}
}
