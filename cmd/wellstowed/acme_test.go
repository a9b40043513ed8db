package main

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/dns/dnsmessage"
)

// An authority on this machine, which looks whether a name leads to the program as a public
// one does, vouches for it; the account and certificate stay beside the database.
func TestAPublicAuthorityVouchesForTheName(t *testing.T) {
	pebble, err := exec.LookPath("pebble")
	toolOr(t, err, "no pebble, an ACME authority for tests, is installed:")
	address := freeAddress(t)
	_, port, err := net.SplitHostPort(address)
	require.NoError(t, err)
	directory, root, issuers := localAuthority(t, pebble, port)
	dir := t.TempDir()
	db := filepath.Join(dir, "shop.db")
	require.Equal(t, exitDone, served(t, "--db", db).code)
	r := program(t, "", "owner", "add", "Rosalind Pike", "--db", db)
	require.Equal(t, exitDone, r.code, r.err)
	code := printedCode.FindStringSubmatch(r.out)
	require.NotNil(t, code, r.out)
	base, at := running(t, "--db", db, "--listen", address, "--name", "yard.example", "--acme", "--acme-directory", directory, "--acme-root", root)
	assert.Equal(t, "https://yard.example:"+port, base)
	newPhone(t, base, at, issuers()).signInToReceipt(code[1])

	kept, err := os.Stat(db + ".acme")
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o700), kept.Mode().Perm())
	secret, err := os.Stat(filepath.Join(db+".acme", "yard.example"))
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), secret.Mode().Perm())
}

func TestWhatGoesWithAnAuthority(t *testing.T) {
	db := filepath.Join(t.TempDir(), "shop.db")
	for says, args := range map[string][]string{
		"need --name":            {"--acme"},
		"gets the certificate":   {"--acme", "--name", "yard.example", "--tls-cert", "a", "--tls-key", "b"},
		"vouches for its name":   {"--acme", "--lan", "yard.local"},
		"beginning with https":   {"--acme", "--name", "yard.example", "--acme-directory", "http://authority.example/dir"},
		"goes with --acme":       {"--name", "yard.example", "--proxy", "127.0.0.1/32", "--acme-root", "a"},
		"nobody signs in yet":    {"--acme", "--name", "yard.example"},
		"stays on this machine;": {"--acme", "--name", "yard.example", "--demo"},
	} {
		r := program(t, "", append([]string{"serve", "--db", db, "--listen", "127.0.0.1:0"}, args...)...)
		assert.Equal(t, exitRefused, r.code, says)
		assert.Contains(t, r.err, says)
	}
}

func freeAddress(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	return l.Addr().String()
}

// localAuthority starts pebble, which calls on names at a port of this machine. issuers are
// those that sign its certificates.
func localAuthority(t *testing.T, pebble, port string) (directory, root string, issuers func() *x509.CertPool) {
	t.Helper()
	root, key, pool := certFor(t, "localhost")
	listen, manage := freeAddress(t), freeAddress(t)
	var tlsPort int
	_, err := fmt.Sscan(port, &tlsPort)
	require.NoError(t, err)
	config, err := json.Marshal(map[string]any{"pebble": map[string]any{
		"listenAddress": listen, "managementListenAddress": manage, "certificate": root, "privateKey": key, "httpPort": tlsPort, "tlsPort": tlsPort,
	}})
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "pebble.json")
	require.NoError(t, os.WriteFile(file, config, 0o600))
	cmd := exec.CommandContext(t.Context(), pebble, "-config", file, "-dnsserver", namesLeadHere(t))
	cmd.Env = append(os.Environ(), "PEBBLE_VA_NOSLEEP=1", "PEBBLE_WFE_NONCEREJECT=0")
	cmd.Stderr = os.Stderr
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	_, at, err := net.SplitHostPort(listen)
	require.NoError(t, err)
	_, managed, err := net.SplitHostPort(manage)
	require.NoError(t, err)
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool, MinVersion: tls.VersionTLS12}}}
	directory = "https://localhost:" + at + "/dir"
	require.Eventually(t, func() bool {
		res, err := client.Get(directory)
		if err == nil {
			res.Body.Close()
		}
		return err == nil
	}, time.Minute, 20*time.Millisecond, "pebble answers")
	return directory, root, func() *x509.CertPool {
		res, err := client.Get("https://localhost:" + managed + "/roots/0")
		require.NoError(t, err)
		defer res.Body.Close()
		roots, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		signers := x509.NewCertPool()
		require.True(t, signers.AppendCertsFromPEM(roots))
		return signers
	}
}

// namesLeadHere answers that every name is at this machine.
func namesLeadHere(t *testing.T) string {
	t.Helper()
	conn, err := net.ListenPacket("udp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { conn.Close() })
	go func() {
		packet := make([]byte, 1500)
		for {
			n, from, err := conn.ReadFrom(packet)
			if err != nil {
				return
			}
			var asked dnsmessage.Message
			if asked.Unpack(packet[:n]) != nil {
				continue
			}
			asked.Response, asked.Additionals = true, nil
			for _, q := range asked.Questions {
				if q.Type == dnsmessage.TypeA {
					asked.Answers = append(asked.Answers, dnsmessage.Resource{
						Header: dnsmessage.ResourceHeader{Name: q.Name, Class: q.Class, TTL: 1}, Body: &dnsmessage.AResource{A: [4]byte{127, 0, 0, 1}}})
				}
			}
			if answer, err := asked.Pack(); err == nil {
				_, _ = conn.WriteTo(answer, from)
			}
		}
	}()
	return conn.LocalAddr().String()
}
