package receipts

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tool finds a program that reads PDFs. A machine without it skips the test, but
// CI must have it.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed; CI needs it (poppler-utils, qpdf)", name)
	}
	if err != nil {
		t.Skipf("%s is not installed: not tested here", name)
	}
	return path
}

func fileOf(t *testing.T, pdf []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "paper.pdf")
	require.NoError(t, os.WriteFile(path, pdf, 0o600))
	return path
}

// textOf is the text of a PDF as a reader would copy it, line ends as blanks.
func textOf(t *testing.T, pdf []byte) string {
	t.Helper()
	out, err := exec.Command(tool(t, "pdftotext"), "-layout", fileOf(t, pdf), "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

// inOrder is the text of a PDF in the order in which it was painted, line ends as blanks.
func inOrder(t *testing.T, pdf []byte) string {
	t.Helper()
	out, err := exec.Command(tool(t, "pdftotext"), "-raw", fileOf(t, pdf), "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

// sound checks the file with qpdf.
func sound(t *testing.T, pdf []byte) {
	t.Helper()
	out, err := exec.Command(tool(t, "qpdf"), "--check", fileOf(t, pdf)).CombinedOutput()
	require.NoError(t, err, string(out))
	require.NotContains(t, string(out), "WARNING")
}

// pages is the number of pages.
func pages(t *testing.T, pdf []byte) string {
	t.Helper()
	out, err := exec.Command(tool(t, "qpdf"), "--show-npages", fileOf(t, pdf)).Output()
	require.NoError(t, err)
	return strings.TrimSpace(string(out))
}

// attachmentOf is a file inside a PDF, as qpdf finds it.
func attachmentOf(t *testing.T, pdf []byte, name string) []byte {
	t.Helper()
	path := fileOf(t, pdf)
	list, err := exec.Command(tool(t, "qpdf"), "--list-attachments", path).Output()
	require.NoError(t, err)
	key, _, found := strings.Cut(string(list), " -> ")
	require.True(t, found, string(list))
	verbose, err := exec.Command(tool(t, "qpdf"), "--list-attachments", "--verbose", path).Output()
	require.NoError(t, err)
	require.Contains(t, string(verbose), name)
	out, err := exec.Command(tool(t, "qpdf"), "--show-attachment="+key, path).Output()
	require.NoError(t, err)
	return out
}
