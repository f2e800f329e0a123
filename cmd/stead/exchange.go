package main

import (
	"archive/zip"
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/pricing/books"
)

func newExport() *cobra.Command {
	var replace bool
	cmd := &cobra.Command{Use: "export PLACE", Short: "Write the shop's books as tables that any program reads", Args: exactly("PLACE"),
		Long: `Writes stock, parts, the codes given to them, movements, what is wanted and said
of the shelf, suppliers, customers, bikes, jobs, bills and payments as CSV
tables, into a folder or, where PLACE ends in .zip, into one file. The README
tells the layout. ` + "`stead import`" + ` takes them in again. A backup, which has all
there is, is made by ` + "`stead db backup`" + `.`,
		Example: "  stead export books.zip\n  stead export books"}
	cmd.Flags().BoolVar(&replace, "replace", false, "write over a .zip that is there already")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		pool, err := w.open(cmd.Context())
		if err != nil {
			return err
		}
		tables, err := desk.ExportBooks(cmd.Context(), pool)
		if err != nil {
			return err
		}
		if strings.EqualFold(filepath.Ext(args[0]), ".zip") {
			var file bytes.Buffer
			if err := desk.ZipBooks(&file, tables); err != nil {
				return err
			}
			err = writeWhole(args[0], file.Bytes(), replace)
		} else {
			err = writeFolder(args[0], tables)
		}
		if err != nil {
			return err
		}
		return show(cmd, map[string]any{"place": args[0], "tables": books.Files}, func() { say(cmd, "%s in %s", desk.Several(len(tables), "table"), args[0]) })
	})
	return cmd
}

// writeFolder writes files into a folder that is not there yet, all of them or none.
func writeFolder(folder string, files map[string][]byte) error {
	folder = filepath.Clean(folder)
	if _, err := os.Lstat(folder); !errors.Is(err, fs.ErrNotExist) {
		if err != nil {
			return fmt.Errorf("write %s: %w", folder, err)
		}
		return fmt.Errorf("%s is there already: name a folder that is not", folder)
	}
	beside, err := os.MkdirTemp(filepath.Dir(folder), ".stead-books-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", folder, err)
	}
	defer os.RemoveAll(beside) // gone already when all went well
	for name, content := range files {
		if err := os.WriteFile(filepath.Join(beside, name), content, 0o644); err != nil {
			return fmt.Errorf("write %s: %w", folder, err)
		}
	}
	err = os.Chmod(beside, 0o755)
	if err == nil {
		err = os.Rename(beside, folder)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", folder, err)
	}
	return nil
}

func newImport() *cobra.Command {
	cmd := &cobra.Command{Use: "import FILE", Short: "Take in books that `stead export` wrote, all of them or none", Args: exactly("FILE"),
		Long: `Takes in the tables of a folder or of a .zip: all of them, or with an error
none. Into an empty shop everything is taken in, with its numbers, so that
labels, papers and the series of bills go on; jobs that are open are booked in
anew, without their quotes. Into a shop that has begun only customers, bikes,
suppliers, parts and their codes can be added, and those that are there already
stay as they are. stock.csv alone, with parts.csv, is the stock that a shop
opens with.`,
		Example: "  stead import books.zip"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		files, err := openBooks(args[0])
		if err != nil {
			return err
		}
		taken, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (books.Taken, error) {
			in := map[string]io.Reader{}
			for name, content := range files {
				in[name] = bytes.NewReader(content)
			}
			return books.Import(ctx, tx, key, in, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, taken, func() {
			words := takenWords(taken)
			switch {
			case taken.Anew:
				say(cmd, "taken in: %s", cmp.Or(words, "nothing, the tables are empty"))
			case words == "":
				say(cmd, "nothing is added: all of it is there already")
			default:
				say(cmd, "added: %s", words)
			}
		})
	})
	return cmd
}

// takenWords names what was taken in: "2 customers, 1 bike".
func takenWords(t books.Taken) string {
	var words []string
	for _, n := range []struct {
		of  string
		are int
	}{{"customer", t.Customers}, {"bike", t.Bikes}, {"job", t.Jobs}, {"supplier", t.Suppliers}, {"part", t.Parts}, {"code", t.Codes}, {"movement", t.Movements}, {"limit", t.Limits}, {"word", t.Said}, {"paper", t.Bills}, {"payment", t.Payments}} {
		if n.are > 0 {
			words = append(words, desk.Several(n.are, n.of))
		}
	}
	return strings.Join(words, ", ")
}

// mostBooks bounds what is read of a file or folder.
const mostBooks = 2 << 30

// openBooks reads the tables of a folder or of a .zip. Folders in it are looked into no further, and what hides is left out.
func openBooks(place string) (map[string][]byte, error) {
	info, err := os.Stat(place)
	if err != nil {
		return nil, fmt.Errorf("take in %s: %w", place, err)
	}
	var from fs.FS = os.DirFS(place)
	if !info.IsDir() {
		r, err := zip.OpenReader(place)
		if err != nil {
			return nil, fmt.Errorf("%s is neither a folder of tables nor a whole .zip of them", place)
		}
		defer r.Close() // only read from
		from = r
	}
	files, left := map[string][]byte{}, int64(mostBooks)
	entries, err := fs.ReadDir(from, ".")
	if err != nil {
		return nil, fmt.Errorf("take in %s: %w", place, err)
	}
	for _, e := range entries {
		if e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		f, err := from.Open(path.Clean(e.Name()))
		if err != nil {
			return nil, fmt.Errorf("take in %s: %w", e.Name(), err)
		}
		content, err := io.ReadAll(io.LimitReader(f, left+1))
		f.Close() // only read from
		if err != nil {
			return nil, fmt.Errorf("take in %s: %w", e.Name(), err)
		}
		if left -= int64(len(content)); left < 0 {
			return nil, fmt.Errorf("%s holds more than %d GB: it is no shop's books", place, mostBooks>>30)
		}
		files[e.Name()] = content
	}
	return files, nil
}
