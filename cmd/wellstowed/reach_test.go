package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"fmt"
	"io"
	"math/big"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// certFor writes a certificate of its own for a name, and its key.
func certFor(t *testing.T, name string) (cert, key string, pool *x509.CertPool) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	template := &x509.Certificate{
		SerialNumber: big.NewInt(time.Now().UnixNano()), Subject: pkix.Name{CommonName: name}, DNSNames: []string{name},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true,
		KeyUsage: x509.KeyUsageDigitalSignature | x509.KeyUsageCertSign, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &private.PublicKey, private)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	require.NoError(t, err)
	dir := t.TempDir()
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	require.NoError(t, os.WriteFile(cert, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	require.NoError(t, os.WriteFile(key, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), 0o600))
	pool = x509.NewCertPool()
	parsed, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	pool.AddCert(parsed)
	return cert, key, pool
}

func TestOthersAreServedOnlyByNameWithTLSAndPeople(t *testing.T) {
	cert, key, _ := certFor(t, "yard.example")
	db := filepath.Join(t.TempDir(), "shop.db")
	makeShop(t, db)
	named := []string{"--name", "yard.example", "--tls-cert", cert, "--tls-key", key}
	for name, row := range map[string]struct {
		args []string
		says string
	}{
		"an open address":           {[]string{"--listen", "0.0.0.0:0"}, "in the clear"},
		"a name without TLS":        {[]string{"--name", "yard.example"}, "needs --acme, --tls-cert"},
		"a key without its name":    {named[2:], "need --name"},
		"a certificate and a proxy": {append([]string{"--proxy", "127.0.0.1/32"}, named...), "read both"},
		"an address for a name":     {append([]string{"--name", "192.0.2.1"}, named[2:]...), "without port"},
		"a name with a port":        {append([]string{"--name", "yard.example:443"}, named[2:]...), "without port"},
		"the demonstration":         {append([]string{"--demo"}, named...), "stays on this machine"},
	} {
		r := program(t, "", append([]string{"serve", "--db", db, "--listen", "127.0.0.1:0"}, row.args...)...)
		assert.Equal(t, exitRefused, r.code, name)
		assert.Contains(t, r.err, row.says, name)
	}
	r := program(t, "", append([]string{"serve", "--db", db, "--listen", "127.0.0.1:0"}, named...)...)
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.err, "nobody signs in yet")
	require.Equal(t, exitDone, program(t, "", "owner", "add", "Rosalind Pike", "--db", db).code)
	for says, args := range map[string][]string{
		"proxy alone":   {"--name", "yard.example", "--proxy", "0.0.0.0/0"},
		"can't be used": {"--name", "yard.example", "--tls-cert", cert, "--tls-key", key + "x"},
	} {
		r := program(t, "", append([]string{"serve", "--db", db, "--listen", "127.0.0.1:0"}, args...)...)
		assert.Equal(t, exitRefused, r.code)
		assert.Contains(t, r.err, says)
	}
}

// A phone is a browser without scripts that trusts a pool of certificates, and reaches
// any name at one address.
type phone struct {
	t    *testing.T
	http *http.Client
	base string
	page *goquery.Document
	form *goquery.Selection
}

func newPhone(t *testing.T, base, address string, pool *x509.CertPool) *phone {
	t.Helper()
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	dial := &net.Dialer{Timeout: 10 * time.Second}
	return &phone{t: t, base: base, http: &http.Client{Jar: jar, Timeout: time.Minute, Transport: &http.Transport{
		TLSClientConfig: &tls.Config{RootCAs: pool, MinVersion: tls.VersionTLS12},
		DialContext:     (&to{dial, address}).dial,
	}}}
}

// open shows a page, which must be there, and takes its first form.
func (p *phone) open(path string) *phone {
	p.t.Helper()
	if !strings.HasPrefix(path, "https://") {
		path = p.base + path
	}
	res, err := p.http.Get(path)
	require.NoError(p.t, err)
	return p.shown(res)
}

func (p *phone) shown(res *http.Response) *phone {
	p.t.Helper()
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(p.t, err)
	p.page, err = goquery.NewDocumentFromReader(bytes.NewReader(body))
	require.NoError(p.t, err)
	require.Less(p.t, res.StatusCode, 400, "%s: %s", res.Request.URL, p.page.Find("h1, .faults, .fault").Text())
	p.form = p.page.Find("main form").First()
	return p
}

// press fills fields by name and sends the form by its main button.
func (p *phone) press(fields map[string]string) *phone {
	p.t.Helper()
	values := url.Values{}
	p.form.Find("input, textarea, select").Each(func(_ int, s *goquery.Selection) {
		_, checked := s.Attr("checked")
		if kind := s.AttrOr("type", "text"); kind == "radio" || kind == "checkbox" {
			if checked {
				values.Set(s.AttrOr("name", ""), s.AttrOr("value", "on"))
			}
			return
		}
		value := s.AttrOr("value", "")
		switch goquery.NodeName(s) {
		case "textarea":
			value = s.Text()
		case "select":
			value = s.Find("option[selected]").AttrOr("value", "")
		}
		values.Set(s.AttrOr("name", ""), value)
	})
	button := p.form.Find("button.main").First()
	if name, has := button.Attr("name"); has {
		values.Set(name, button.AttrOr("value", ""))
	}
	for name, value := range fields {
		values.Set(name, value)
	}
	res, err := p.http.PostForm(p.base+button.AttrOr("formaction", p.form.AttrOr("action", "")), values)
	require.NoError(p.t, err)
	return p.shown(res)
}

// signInToReceipt is a phone's way from a one-time code to a receipt's PDF.
func (p *phone) signInToReceipt(code string) {
	p.t.Helper()
	p.open("/pair").press(map[string]string{"code": code, "name": "Rosalind Pike", "password": "four ash wedges by the door"})
	require.Equal(p.t, "Rosalind Pike", p.page.Find("h1").Text())
	p.open("/shop").press(map[string]string{"name": "Alder Lane Firewood", "address": "4 Alder Lane\nHartwell", "currency": "USD", "zone": "UTC"})
	p.open("/orders/new").press(map[string]string{
		"customer_name": "Ada Moss", "customer_address": "12 Mill Road\nHartwell", "quantity": "1 cord", "species": "red oak", "price_per_cord": "280", "seasoning": "seasoned",
		"piece_length": "16 in",
	})
	p.press(nil)
	path := regexp.MustCompile(`/orders/[0-9a-f-]{36}`).FindString(p.page.Find("main").Text() + html(p.t, p.page))
	require.NotEmpty(p.t, path)
	p.open(path + "/deliver").press(nil)
	p.form = p.page.Find(`form[action$="/delivered/now"]`)
	p.press(nil)
	res, err := p.http.Get(p.base + "/receipts/1/pdf")
	require.NoError(p.t, err)
	defer res.Body.Close()
	pdf, err := io.ReadAll(res.Body)
	require.NoError(p.t, err)
	require.True(p.t, bytes.HasPrefix(pdf, []byte("%PDF-")), "%.200s", pdf)
}

func html(t *testing.T, page *goquery.Document) string {
	t.Helper()
	text, err := page.Html()
	require.NoError(t, err)
	return text
}

// A phone that trusts the certificate comes from the code to a receipt by the name, and
// one that doesn't trust it gets nowhere.
func TestByNameWithTLSFromSignInToReceipt(t *testing.T) {
	cert, key, pool := certFor(t, "yard.example")
	db := filepath.Join(t.TempDir(), "shop.db")
	require.Equal(t, exitDone, served(t, "--db", db).code)
	r := program(t, "", "owner", "add", "Rosalind Pike", "--db", db)
	require.Equal(t, exitDone, r.code, r.err)
	code := printedCode.FindStringSubmatch(r.out)
	require.NotNil(t, code, r.out)
	base, address := running(t, "--db", db, "--listen", "127.0.0.1:0", "--name", "yard.example", "--tls-cert", cert, "--tls-key", key)
	require.Equal(t, fmt.Sprintf("https://yard.example:%s", address[strings.LastIndex(address, ":")+1:]), base)
	newPhone(t, base, address, pool).signInToReceipt(code[1])

	stranger := newPhone(t, base, address, x509.NewCertPool())
	_, err := stranger.http.Get(base + "/sign-in")
	require.ErrorContains(t, err, "certificate")
	plain, err := http.Get("http://" + address + "/sign-in")
	if err == nil {
		plain.Body.Close()
		require.GreaterOrEqual(t, plain.StatusCode, 400, "plain http on the TLS port")
	}
}

// A certificate that was renewed in its files is served without a new start.
func TestRenewedCertificateIsServed(t *testing.T) {
	cert, key, _ := certFor(t, "yard.example")
	files := &certFiles{cert: cert, key: key}
	first, err := files.forHello(nil)
	require.NoError(t, err)
	again, _, _ := certFor(t, "yard.example")
	renewed, err := os.ReadFile(again)
	require.NoError(t, err)
	newKey, err := os.ReadFile(filepath.Join(filepath.Dir(again), "key.pem"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(cert, renewed, 0o600))
	later := time.Now().Add(time.Minute)
	require.NoError(t, os.Chtimes(cert, later, later))
	half, err := files.forHello(nil)
	require.NoError(t, err)
	assert.Equal(t, first.Certificate, half.Certificate, "with the key missing still, the old one goes on")
	require.NoError(t, os.WriteFile(key, newKey, 0o600))
	full, err := files.forHello(nil)
	require.NoError(t, err)
	assert.NotEqual(t, first.Certificate, full.Certificate)
}

// to dials one address whatever is asked for.
type to struct {
	*net.Dialer
	address string
}

func (d *to) dial(ctx context.Context, network, _ string) (net.Conn, error) {
	return d.DialContext(ctx, network, d.address)
}

// running serves until the test ends, and gives the address that others reach it by and
// the one it listens on.
func running(t *testing.T, args ...string) (base, address string) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	said := &hearing{at: make(chan []string, 1)}
	var errs strings.Builder
	m := machine{in: strings.NewReader(""), out: said, err: &errs, clock: time.Now, env: func(string) (string, bool) { return "", false }}
	ended := make(chan int, 1)
	go func() { ended <- m.run(ctx, append([]string{"serve"}, args...)) }()
	t.Cleanup(func() { stop(); <-ended })
	select {
	case found := <-said.at:
		return found[1], found[2]
	case code := <-ended:
		ended <- code
		require.FailNow(t, "it did not serve", "%d: %s", code, errs.String())
	}
	return "", ""
}

// A hearing listens for where the program says that it serves.
type hearing struct {
	text strings.Builder
	at   chan []string
	look *regexp.Regexp // nil: servesNamed
}

var servesNamed = regexp.MustCompile(`serves (https://\S+) at (\S+)\.`)

func (h *hearing) Write(p []byte) (int, error) {
	h.text.Write(p)
	look := h.look
	if look == nil {
		look = servesNamed
	}
	if found := look.FindStringSubmatch(h.text.String()); found != nil {
		select {
		case h.at <- found:
		default: // it was told already
		}
	}
	return len(p), nil
}
