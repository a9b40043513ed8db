package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

// lanEndings are those of names that nobody can own (RFC 6762, RFC 8375, RFC 6761, and
// ICANN's .internal, from memory). An authority for any other name could stand for
// somebody else's site.
var lanEndings = []string{".local", ".home.arpa", ".internal", ".test"}

// checkLANName refuses a name that could be somebody else's.
func checkLANName(name string) error {
	if dnsName.MatchString(name) && slices.ContainsFunc(lanEndings, func(end string) bool { return strings.HasSuffix(name, end) }) {
		return nil
	}
	return refuse("--lan: read %q; accepted: a name in small letters that ends in %s, such as yard.local", name, strings.Join(lanEndings, ", "))
}

// An authority signs certificates for one name in a shop's own network. Phones have to be
// told to trust it.
type authority struct {
	name  string
	cert  *x509.Certificate
	key   *ecdsa.PrivateKey
	clock func() time.Time

	mu   sync.Mutex
	leaf *tls.Certificate
}

// How long the authority and its certificates hold, and how long before its end one is
// renewed.
const (
	authorityFor = 10 * 365 * 24 * time.Hour
	leafFor      = 90 * 24 * time.Hour
	renewBefore  = 30 * 24 * time.Hour
	clockSlack   = 24 * time.Hour // for phones whose clock is behind
)

// openAuthority reads the authority beside a database, or makes one.
func openAuthority(db, name string, clock func() time.Time) (*authority, error) {
	a := &authority{name: name, clock: clock}
	certFile, keyFile := db+".ca.crt", db+".ca.key"
	certText, certErr := os.ReadFile(certFile)
	keyText, keyErr := os.ReadFile(keyFile)
	switch {
	case errors.Is(certErr, fs.ErrNotExist) && errors.Is(keyErr, fs.ErrNotExist):
		return a, a.make(certFile, keyFile)
	case certErr != nil || keyErr != nil:
		return nil, refuse("--lan: %w; the certificate and the key of the shop's authority belong together: put back what is missing, "+
			"or move the other away, and every phone has to trust a new one", errors.Join(certErr, keyErr))
	}
	if info, err := os.Stat(keyFile); err != nil || info.Mode().Perm()&0o077 != 0 {
		return nil, refuse("--lan: %s can be read by others than its owner; take that from them (chmod 600) or move it and its certificate away to make a new authority", keyFile)
	}
	return a, a.parse(certText, keyText)
}

// make makes the authority and keeps it in new files that only their owner can read.
func (a *authority) make(certFile, keyFile string) error {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return err
	}
	template, err := a.template("Wellstowed, "+a.name+" alone", authorityFor)
	if err != nil {
		return err
	}
	everywhere4, everywhere6 := &net.IPNet{IP: net.IPv4zero.To4(), Mask: net.CIDRMask(0, 32)}, &net.IPNet{IP: net.IPv6zero, Mask: net.CIDRMask(0, 128)}
	template.IsCA, template.BasicConstraintsValid, template.MaxPathLenZero = true, true, true
	template.KeyUsage = x509.KeyUsageCertSign
	template.PermittedDNSDomainsCritical, template.PermittedDNSDomains = true, []string{a.name}
	template.ExcludedIPRanges = []*net.IPNet{everywhere4, everywhere6}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	if err != nil {
		return err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return err
	}
	certText, keyText := encodePEM("CERTIFICATE", der), encodePEM("PRIVATE KEY", secret)
	if err := writeNew(keyFile, keyText); err != nil {
		return err
	}
	if err := writeNew(certFile, certText); err != nil {
		return err
	}
	return a.parse(certText, keyText)
}

func encodePEM(kind string, der []byte) []byte {
	return pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: der})
}

// parse takes what the files hold.
func (a *authority) parse(certText, keyText []byte) error {
	pair, err := tls.X509KeyPair(certText, keyText)
	if err != nil {
		return refuse("--lan: the shop's authority can't be used: %w", err)
	}
	key, isOurs := pair.PrivateKey.(*ecdsa.PrivateKey)
	if a.cert, a.key = pair.Leaf, key; !isOurs || !slices.Equal(a.cert.PermittedDNSDomains, []string{a.name}) {
		return refuse("--lan: the authority beside the database signs for %s and no other name; give that name, "+
			"or move its two files away, and every phone has to trust a new one", strings.Join(a.cert.PermittedDNSDomains, ", "))
	}
	return nil
}

func (a *authority) template(subject string, holds time.Duration) (*x509.Certificate, error) {
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 126))
	now := a.clock()
	return &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: subject}, NotBefore: now.Add(-clockSlack), NotAfter: now.Add(holds),
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}, err
}

// forHello gives the certificate of the name, renewed while the program runs. Its key
// is in memory alone.
func (a *authority) forHello(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.leaf != nil && a.clock().Before(a.leaf.Leaf.NotAfter.Add(-renewBefore)) {
		return a.leaf, nil
	}
	leaf, err := a.sign()
	if err == nil {
		a.leaf = leaf
	}
	return a.leaf, err
}

func (a *authority) sign() (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	template, err := a.template(a.name, leafFor)
	if err != nil {
		return nil, err
	}
	template.DNSNames, template.KeyUsage = []string{a.name}, x509.KeyUsageDigitalSignature
	der, err := x509.CreateCertificate(rand.Reader, template, a.cert, &key.PublicKey, a.key)
	if err != nil {
		return nil, err
	}
	parsed, err := x509.ParseCertificate(der)
	return &tls.Certificate{Certificate: [][]byte{der, a.cert.Raw}, PrivateKey: key, Leaf: parsed}, err
}

// fingerprint is SHA-256 of the authority's certificate, as phones show it.
func (a *authority) fingerprint() string {
	return strings.ReplaceAll(fmt.Sprintf("% X", sha256.Sum256(a.cert.Raw)), " ", ":")
}
