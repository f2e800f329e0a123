package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"golang.org/x/text/encoding/charmap"

	"stead/inventory/pricelist/describe"
)

// newDescribe needs no database: it reads with the trade's words and, if they are given, a shop's own.
func newDescribe() *cobra.Command {
	var own string
	cmd := &cobra.Command{Use: "describe", Short: "Read wholesalers' descriptions into families and dimensions", Args: exactly(),
		Long: `Reads wholesalers' descriptions, one a line, and answers each with one line of
JSON: the family of part, the dimensions that the text gives for sure, and the
words that were not understood. A line that is not UTF-8 is read as
Windows-1252. Of a line longer than 64 kB the rest is left out.`,
		Example: "  echo 'C/RING 34T 110PCD 5-BOLT INNER SILVER 9/10SPD' | stead describe\n" +
			"  stead pricelist words harbour > harbour.words\n  stead describe --words harbour.words < descriptions.txt"}
	cmd.Flags().StringVar(&own, "words", "", "file with a shop's own words, one WORD=MEANING a line")
	readsFile(cmd, "words")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		var words describe.Words
		if own != "" {
			text, err := os.ReadFile(own)
			if err != nil {
				return fmt.Errorf("read the words: %w", err)
			}
			if words, err = parseWords(string(text)); err != nil {
				return fmt.Errorf("%s: %w", own, err)
			}
		}
		reader, err := describe.NewReader(words)
		if err != nil {
			return err
		}
		return describeLines(reader, cmd.InOrStdin(), cmd.OutOrStdout())
	}
	return cmd
}

// longestLine is how much of a description is looked at and given back.
const longestLine = 64 << 10

// describeLines answers each line with one. Whoever types or pipes line by line gets each answer at once.
func describeLines(reader *describe.Reader, in io.Reader, out io.Writer) error {
	lines := bufio.NewReaderSize(in, longestLine)
	answers := bufio.NewWriterSize(out, 64<<10)
	for first := true; ; first = false {
		line, err := lines.ReadSlice('\n')
		cut := errors.Is(err, bufio.ErrBufferFull)
		if err != nil && !cut && !errors.Is(err, io.EOF) {
			return errors.Join(fmt.Errorf("read the descriptions: %w", err), answers.Flush())
		}
		if len(line) > 0 {
			if first {
				line = bytes.TrimPrefix(line, []byte("\ufeff"))
			}
			answer, err := reader.Read(lineText(line)).AppendJSON(answers.AvailableBuffer())
			if err != nil {
				return err
			}
			answers.Write(append(answer, '\n')) // Flush tells what went wrong
		}
		for cut {
			_, err = lines.ReadSlice('\n')
			cut = errors.Is(err, bufio.ErrBufferFull)
		}
		if err != nil || lines.Buffered() == 0 {
			if err := answers.Flush(); err != nil {
				return fmt.Errorf("write the readings: %w", err)
			}
		}
		if err != nil {
			if errors.Is(err, io.EOF) {
				return nil
			}
			return fmt.Errorf("read the descriptions: %w", err)
		}
	}
}

// lineText is a line's text without its end. Lists that are not UTF-8 are Windows-1252; a letter cut in two at the end of
// a long line does not count.
func lineText(line []byte) string {
	if len(line) == longestLine {
		for end := len(line) - 1; end >= len(line)-utf8.UTFMax; end-- {
			if utf8.RuneStart(line[end]) {
				if !utf8.FullRune(line[end:]) {
					line = line[:end]
				}
				break
			}
		}
	}
	line = bytes.TrimRight(line, "\r\n")
	if utf8.Valid(line) {
		return string(line)
	}
	text, err := charmap.Windows1252.NewDecoder().String(string(line))
	if err != nil {
		return strings.ToValidUTF8(string(line), "\ufffd")
	}
	return text
}

// parseWords reads lines of WORD=MEANING; empty lines and those that begin with # say nothing.
func parseWords(text string) (describe.Words, error) {
	words := describe.Words{}
	number := 0
	for line := range strings.Lines(strings.TrimPrefix(text, "\ufeff")) {
		number++
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		word, meaning, err := wordMeaning(line)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", number, err)
		}
		words[word] = meaning
	}
	return words, nil
}

// wordMeaning reads "RS-7=pad_shape=B05": the word ends at the first equals sign.
func wordMeaning(text string) (word, meaning string, err error) {
	word, meaning, ok := strings.Cut(text, "=")
	word, meaning = strings.TrimSpace(word), strings.TrimSpace(meaning)
	if !ok || word == "" || meaning == "" {
		return "", "", fmt.Errorf("%q gives no meaning to a word: write WORD=DIMENSION=VALUE (RS-7=pad_shape=B05), WORD='family NAME' or WORD=ignore", text)
	}
	return word, meaning, nil
}
