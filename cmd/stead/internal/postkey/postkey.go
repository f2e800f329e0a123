// Package postkey keeps the password of the server for outgoing mail on this machine, and not in the database: a backup of
// the shop's books does not let anybody write in its name.
//
// The file is the user's own (0600), in the folder of Stead's data. It names the server and the account that the password is
// for and is used for no other, so that whoever changes the settings does not learn it. The environment goes before it.
package postkey

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"stead/inventory/post"
)

// Variable is the environment variable that goes before the file.
const Variable = "STEAD_POST_PASSWORD"

// Folder is where the password is kept; empty: nowhere.
type Folder string

type kept struct {
	Host     string `json:"host"`
	Account  string `json:"account"`
	Password string `json:"password"`
}

func (f Folder) file() string { return filepath.Join(string(f), "post-password") }

// Keep keeps the password of a server's account in place of the one before.
func (f Folder) Keep(s post.Server, password string) error {
	if f == "" {
		return fmt.Errorf("there is no folder for data here: give the password in %s", Variable)
	}
	text, err := json.Marshal(kept{s.Host, s.Account, password})
	if err != nil {
		return fmt.Errorf("keep the password: %w", err)
	}
	if err := os.MkdirAll(string(f), 0o700); err != nil {
		return fmt.Errorf("keep the password: %w", err)
	}
	// Written beside its place: it is whole or as it was.
	beside, err := os.CreateTemp(string(f), ".post-password-*") // 0600
	if err != nil {
		return fmt.Errorf("keep the password: %w", err)
	}
	defer os.Remove(beside.Name()) // gone already when all went well
	_, err = beside.Write(text)
	if err = errors.Join(err, beside.Sync(), beside.Close()); err == nil {
		err = os.Rename(beside.Name(), f.file())
	}
	if err != nil {
		return fmt.Errorf("keep the password: %w", err)
	}
	return nil
}

// Password is that of a server's account.
func (f Folder) Password(s post.Server) (string, error) {
	if word := os.Getenv(Variable); word != "" {
		return word, nil
	}
	none := fmt.Errorf("the password of account %s at %s is not on this machine", s.Account, s.Host)
	if f == "" {
		return "", none
	}
	text, err := os.ReadFile(f.file())
	if errors.Is(err, fs.ErrNotExist) {
		return "", none
	}
	if err != nil {
		return "", fmt.Errorf("read the password for outgoing mail: %w", err)
	}
	var k kept
	if err := json.Unmarshal(text, &k); err != nil {
		return "", fmt.Errorf("read the password for outgoing mail in %s: %w", f.file(), err)
	}
	if k.Host != s.Host || k.Account != s.Account {
		return "", none
	}
	return k.Password, nil
}
