package main

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAuthorityVouchesForItsNameAlone(t *testing.T) {
	db, now := filepath.Join(t.TempDir(), "shop.db"), time.Now()
	clock := func() time.Time { return now }
	a, err := openAuthority(db, "yard.local", clock)
	require.NoError(t, err)
	info, err := os.Stat(db + ".ca.key")
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	again, err := openAuthority(db, "yard.local", clock)
	require.NoError(t, err)
	assert.Equal(t, a.fingerprint(), again.fingerprint(), "kept, so that phones trust it once")

	_, err = openAuthority(db, "barn.local", clock)
	require.ErrorContains(t, err, "yard.local and no other name")
	pool := x509.NewCertPool()
	pool.AddCert(a.cert)
	verify := func(a *authority, name string) error {
		leaf, err := a.forHello(nil)
		require.NoError(t, err)
		_, err = leaf.Leaf.Verify(x509.VerifyOptions{Roots: pool, DNSName: name, CurrentTime: now})
		return err
	}
	require.NoError(t, verify(a, "yard.local"))
	forged := &authority{name: "bank.example", cert: a.cert, key: a.key, clock: clock}
	require.ErrorContains(t, verify(forged, "bank.example"), "constraint", "with the key itself")

	require.NoError(t, os.Chmod(db+".ca.key", 0o644))
	_, err = openAuthority(db, "yard.local", clock)
	require.ErrorContains(t, err, "chmod 600")
	require.NoError(t, os.Remove(db+".ca.key"))
	_, err = openAuthority(db, "yard.local", clock)
	require.ErrorContains(t, err, "belong together")
}

func TestCertificateIsRenewedWhileItServes(t *testing.T) {
	now := time.Now()
	a, err := openAuthority(filepath.Join(t.TempDir(), "shop.db"), "yard.local", func() time.Time { return now })
	require.NoError(t, err)
	first, err := a.forHello(nil)
	require.NoError(t, err)
	now = now.Add(59 * 24 * time.Hour)
	same, err := a.forHello(nil)
	require.NoError(t, err)
	assert.Equal(t, first.Leaf.SerialNumber, same.Leaf.SerialNumber)
	now = now.Add(2 * 24 * time.Hour)
	next, err := a.forHello(nil)
	require.NoError(t, err)
	assert.NotEqual(t, first.Leaf.SerialNumber, next.Leaf.SerialNumber)
	assert.True(t, next.Leaf.NotAfter.After(first.Leaf.NotAfter))
}

func TestOnlyNamesThatNobodyOwns(t *testing.T) {
	for _, name := range []string{"yard.local", "a.b.home.arpa", "shop.internal"} {
		assert.NoError(t, checkLANName(name), name)
	}
	for _, name := range []string{"bank.example", "yard", ".local", "local", "Yard.local", "yard.local:8443", "192.168.1.4", "*.local", "yard.local.evil.example", "-x.local"} {
		assert.Error(t, checkLANName(name), name)
	}
}

// lanShop is a shop that serves its own name on an address, with the code by which its
// first owner comes in and the file of its authority.
func lanShop(t *testing.T, host string) (base, address, code, ca string) {
	t.Helper()
	db := filepath.Join(t.TempDir(), "shop.db")
	require.Equal(t, exitDone, served(t, "--db", db).code)
	r := program(t, "", "owner", "add", "Rosalind Pike", "--db", db)
	require.Equal(t, exitDone, r.code, r.err)
	base, address = running(t, "--db", db, "--listen", host+":0", "--lan", "yard.local", "--trust-listen", host+":0")
	return base, address, printedCode.FindStringSubmatch(r.out)[1], db + ".ca.crt"
}

func TestLANFromSignInToReceipt(t *testing.T) {
	base, address, code, ca := lanShop(t, "127.0.0.1")
	p := newPhone(t, base, address, poolOf(t, ca))
	p.signInToReceipt(code)

	// What a phone is told, and gets in the clear, is the authority it then trusts.
	p.open("/trust")
	clear := regexp.MustCompile(`http://yard\.local:(\d+)`).FindStringSubmatch(p.page.Find("main").Text())
	require.NotNil(t, clear)
	get := func(path string) (int, []byte) {
		res, err := http.Get("http://127.0.0.1:" + clear[1] + path)
		require.NoError(t, err)
		defer res.Body.Close()
		body, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		return res.StatusCode, body
	}
	_, page := get("/")
	assert.Contains(t, string(page), p.page.Find("code").First().Text(), "the fingerprint")
	_, der := get("/ca.crt")
	text, err := os.ReadFile(ca)
	require.NoError(t, err)
	block, _ := pem.Decode(text)
	assert.Equal(t, block.Bytes, der)
	for _, path := range []string{"/sign-in", "/orders/new", "/people", "/shop", "/pair"} {
		status, body := get(path)
		assert.Equal(t, http.StatusNotFound, status, path)
		assert.NotContains(t, string(body), "Alder Lane", path)
	}
}

func poolOf(t *testing.T, file string) *x509.CertPool {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	pool := x509.NewCertPool()
	require.True(t, pool.AppendCertsFromPEM(text))
	return pool
}

// A phone in a network of its own comes from the code to a receipt, over a cable between
// two network namespaces.
func TestFromAnotherNetwork(t *testing.T) {
	ip, err := exec.LookPath("ip")
	toolOr(t, err, "the program ip is not here:")
	const ns, near, far = "wellstowed-phone", "wellstowed0", "wellstowed1"
	run := func(args ...string) error { return exec.Command(ip, args...).Run() }
	if err := run("netns", "add", ns); err != nil {
		t.Skip("this machine makes no network namespace: ", err)
	}
	t.Cleanup(func() { _ = run("netns", "del", ns) })
	for _, args := range []string{
		"link add " + near + " type veth peer name " + far + " netns " + ns,
		"addr add 198.18.77.1/30 dev " + near, "link set " + near + " up",
		"-n " + ns + " addr add 198.18.77.2/30 dev " + far, "-n " + ns + " link set " + far + " up",
	} {
		if err := run(strings.Fields(args)...); err != nil {
			t.Skip("this machine joins no network namespaces: ", args, err)
		}
	}
	base, address, code, ca := lanShop(t, "198.18.77.1")
	cmd := exec.Command(ip, "netns", "exec", ns, os.Args[0], "-test.run", "^TestThePhoneInItsNetwork$", "-test.v")
	cmd.Env = append(os.Environ(), "PHONE_BASE="+base, "PHONE_ADDRESS="+address, "PHONE_CODE="+code, "PHONE_CA="+ca)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	require.Contains(t, string(out), "--- PASS: TestThePhoneInItsNetwork")
}

// TestThePhoneInItsNetwork is the phone of TestFromAnotherNetwork, run by it elsewhere.
func TestThePhoneInItsNetwork(t *testing.T) {
	base := os.Getenv("PHONE_BASE")
	if base == "" {
		t.Skip("it is run by TestFromAnotherNetwork")
	}
	address := os.Getenv("PHONE_ADDRESS")
	newPhone(t, base, address, poolOf(t, os.Getenv("PHONE_CA"))).signInToReceipt(os.Getenv("PHONE_CODE"))
	conn, err := tls.DialWithDialer(&net.Dialer{Timeout: 10 * time.Second}, "tcp", address, &tls.Config{ServerName: "yard.local", RootCAs: x509.NewCertPool()})
	if err == nil {
		conn.Close()
	}
	require.ErrorContains(t, err, "certificate", "a phone that was not told to trust it")
}
