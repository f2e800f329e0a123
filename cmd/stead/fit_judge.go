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

	"stead/substitution/judge"
)

// longestQuestion is how much of a line is read: a bike with all its parts takes some ten thousand letters.
const longestQuestion = 1 << 20

// newFitJudge needs no database: the questions bring all that is known of the parts.
func newFitJudge() *cobra.Command {
	var file string
	cmd := &cobra.Command{Use: "judge", Short: "Answer many questions of fit from a file", Args: exactly(),
		Long: `Answers questions of fit, one a line of JSON, each with one line, without a
database. A question is of one of three kinds:

  {"id": "1", "kind": "pair", "a": {"family": "chain", "spec": {"speeds": "9"}},
   "b": {"family": "cassette", "spec": {"speeds": "8/9"}}}
  {"id": "2", "kind": "instead", "a": {…}, "b": {…}}      b in the stead of a
  {"id": "3", "kind": "place", "b": {…}, "place": "rear.tyre",
   "bike": {"rear.rim": {"family": "rim", "spec": {"bead_mm": "622"}}}}

Values are written as a person types them. The answer is fits,
fits-with-difference, no, cant-tell, no-rule or refused, with what is different,
what to measure, and why.`,
		Example: "  stead fit judge --file questions.jsonl --json\n  stead fit judge --file - < questions.jsonl"}
	cmd.Flags().StringVar(&file, "file", "", "file of questions, - for what is piped in")
	_ = cmd.MarkFlagRequired("file")
	readsFile(cmd, "file")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		in := cmd.InOrStdin()
		if file != "-" {
			f, err := os.Open(file)
			if err != nil {
				return fmt.Errorf("read the questions: %w", err)
			}
			defer f.Close()
			in = f
		}
		asJSON, _ := cmd.Flags().GetBool("json")
		return judgeLines(in, cmd.OutOrStdout(), asJSON)
	}
	return cmd
}

// judgeLines answers each line that is not empty. A line too long for a question is refused like any other fault.
func judgeLines(in io.Reader, out io.Writer, asJSON bool) error {
	lines := bufio.NewReaderSize(in, longestQuestion)
	answers := bufio.NewWriterSize(out, 64<<10)
	write := writeWords
	if asJSON {
		enc := json.NewEncoder(answers)
		enc.SetEscapeHTML(false)
		write = func(_ *bufio.Writer, r judge.Reply) error { return enc.Encode(r) }
	}
	for {
		line, err := lines.ReadSlice('\n')
		cut := errors.Is(err, bufio.ErrBufferFull)
		if err != nil && !cut && !errors.Is(err, io.EOF) {
			return errors.Join(fmt.Errorf("read the questions: %w", err), answers.Flush())
		}
		ended := errors.Is(err, io.EOF)
		if question := bytes.TrimSpace(bytes.TrimPrefix(line, []byte("\ufeff"))); len(question) > 0 {
			if err := write(answers, judge.Line(question)); err != nil {
				return fmt.Errorf("write the answers: %w", err)
			}
		}
		for cut {
			_, err = lines.ReadSlice('\n')
			cut = errors.Is(err, bufio.ErrBufferFull)
			ended = errors.Is(err, io.EOF)
		}
		if ended || lines.Buffered() == 0 {
			if err := answers.Flush(); err != nil {
				return fmt.Errorf("write the answers: %w", err)
			}
		}
		if ended {
			return nil
		}
	}
}

// writeWords writes an answer as one line of words: the name, the answer, and what comes of it.
func writeWords(out *bufio.Writer, r judge.Reply) error {
	about := r.Why
	switch r.Answer {
	case judge.Difference:
		about = r.Differences
	case judge.CantTell:
		about = r.Measure
	case judge.Fits:
		about = nil
	}
	words := strings.Trim(string(r.ID), `"`) + ": " + string(r.Answer)
	if len(about) > 0 {
		words += ": " + strings.Join(about, "; ")
	}
	_, err := fmt.Fprintln(out, words)
	return err
}
