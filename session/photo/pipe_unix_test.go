//go:build unix

package photo

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A pipe is refused at once: opening it would wait for somebody to write.
func TestPipeIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe.jpg")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Take(path); err == nil || !strings.Contains(err.Error(), "no plain file") {
		t.Errorf("%v", err)
	}
}
