package site

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestEditions: a folder holds one edition, and no other goes over it, also not one that was cut off.
func TestEditions(t *testing.T) {
	as := func(dir, edition string, names ...string) error {
		_, err := WriteAs(dir, edition, book(names...))
		return err
	}
	dir := filepath.Join(t.TempDir(), "out")
	if err := as(dir, "client", "index.html", "I", "a.html", "A"); err != nil {
		t.Fatal(err)
	}
	manifest, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil || !strings.HasPrefix(string(manifest), "jobbook-manifest 2 client\n") {
		t.Fatalf("%q, %v", manifest, err)
	}
	for _, other := range []string{"", "crew"} {
		err := as(dir, other, "index.html", "I", "a.html", "A")
		if !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), "belongs to the client's edition") {
			t.Errorf("%q over the client's: %v", other, err)
		}
	}
	if err := Claim(dir); !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), "belongs to the client's edition") {
		t.Errorf("a folder of books in the client's: %v", err)
	}
	if err := as(dir, "client", "index.html", "I2"); err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "a.html")); err == nil {
		t.Error("a page that is no longer in the edition stays")
	}
	whole := filepath.Join(t.TempDir(), "whole")
	mustWrite(t, whole, book("index.html", "I"))
	if err := as(whole, "client", "index.html", "I"); !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), "belongs to the whole book") {
		t.Errorf("the client's over the whole: %v", err)
	}
	for _, first := range []string{"jobbook-manifest 2 ", "jobbook-manifest 2 Client", "jobbook-manifest 2 a b", "jobbook-manifest 3 client"} {
		bad := filepath.Join(t.TempDir(), "bad")
		if err := os.MkdirAll(bad, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(bad, manifestName), []byte(first+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := as(bad, "client", "index.html", "I"); !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), whyManifest) {
			t.Errorf("%q: %v", first, err)
		}
	}
}
