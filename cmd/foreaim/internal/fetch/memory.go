package fetch

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"foreaim/cmd/foreaim/internal/durable"
)

// memory is what is remembered of one address.
type memory struct {
	Address      string    `json:"address"`                 // fit to print
	Fetched      time.Time `json:"fetched,omitzero"`        // when the content last was the server's
	ETag         string    `json:"etag,omitempty"`          // of that content
	LastModified string    `json:"last_modified,omitempty"` // of that content
	NotBefore    time.Time `json:"not_before,omitzero"`     // after a refusal: when to ask again
	Refusal      string    `json:"refusal,omitempty"`       // what was wrong then
}

// memoryPath is the file of an address. Its name tells nothing of a password.
func memoryPath(folder string, u *url.URL) string {
	open := *u
	open.User = nil
	return filepath.Join(folder, fmt.Sprintf("fetch-%.8x.json", sha256.Sum256([]byte(open.String()))))
}

// recall reads what is remembered. Nothing, and what can't be read, is as if
// the address had never been asked.
func recall(path string) memory {
	var m memory
	text, err := os.ReadFile(path)
	if err != nil || json.Unmarshal(text, &m) != nil {
		return memory{}
	}
	return m
}

func (m memory) save(path string) error {
	text, err := json.MarshalIndent(m, "", "\t")
	if err != nil {
		return err
	}
	if err := durable.WriteFile(path, append(text, '\n')); err != nil {
		return fmt.Errorf("what was fetched can't be remembered: %w", err)
	}
	return nil
}
