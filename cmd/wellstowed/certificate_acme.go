package main

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"net/http"
	"net/url"
	"os"

	"github.com/spf13/pflag"
	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// acmeFlags say that a public authority is to vouch for the name, by the ACME protocol
// (RFC 8555), and which.
type acmeFlags struct {
	on              bool
	directory, root string
}

func (a *acmeFlags) flags(f *pflag.FlagSet) {
	f.BoolVar(&a.on, "acme", false, "get the certificate of --name from a public authority and renew it; this accepts the authority's terms, and it has to reach the name's port 443")
	f.StringVar(&a.directory, "acme-directory", autocert.DefaultACMEDirectory, "with --acme, address of the authority's directory")
	f.StringVar(&a.root, "acme-root", "", "with --acme, file with the certificate that vouches for the directory, PEM, where the system doesn't know it")
}

func (a acmeFlags) check() error {
	u, err := url.Parse(a.directory)
	if err != nil || u.Scheme != "https" || u.Host == "" {
		return refuse("--acme-directory: read %q; accepted: the address of an authority's directory, beginning with https://", a.directory)
	}
	if a.root != "" && !a.on {
		return refuse("serve: --acme-root goes with --acme")
	}
	return nil
}

// A publicAuthority gets the certificate of one name and keeps it renewed; nil gets none.
type publicAuthority struct {
	name    string
	manager *autocert.Manager
}

// authority keeps its account and the certificate in a folder beside the database, 0700.
func (a acmeFlags) authority(db, name string) (*publicAuthority, error) {
	client := &acme.Client{DirectoryURL: a.directory}
	if a.root != "" {
		file, err := os.ReadFile(a.root)
		pool := x509.NewCertPool()
		if err != nil || !pool.AppendCertsFromPEM(file) {
			return nil, refuse("--acme-root: read %q, and no certificate in it; accepted: a file with a certificate, PEM", a.root)
		}
		transport := http.DefaultTransport.(*http.Transport).Clone()
		transport.TLSClientConfig = &tls.Config{RootCAs: pool, MinVersion: tls.VersionTLS12}
		client.HTTPClient = &http.Client{Transport: transport}
	}
	return &publicAuthority{name: name, manager: &autocert.Manager{
		Prompt: autocert.AcceptTOS, Cache: autocert.DirCache(db + ".acme"), HostPolicy: autocert.HostWhitelist(name), Client: client,
	}}, nil
}

// tls answers phones, and the authority when it looks whether the name leads here. The
// pages are served by HTTP/1.1 alone.
func (p *publicAuthority) tls() *tls.Config {
	config := p.manager.TLSConfig()
	config.MinVersion = tls.VersionTLS12
	config.NextProtos = []string{"http/1.1", acme.ALPNProto}
	return config
}

// obtain gets the certificate before the first phone calls, and tells once what came of it.
func (p *publicAuthority) obtain(ctx context.Context) <-chan string {
	if p == nil {
		return nil
	}
	told := make(chan string, 1)
	go func() {
		_, err := p.manager.GetCertificate(&tls.ClientHelloInfo{
			ServerName: p.name, SupportedProtos: []string{"http/1.1"},
			CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256}, SupportedCurves: []tls.CurveID{tls.CurveP256},
			SignatureSchemes: []tls.SignatureScheme{tls.ECDSAWithP256AndSHA256},
		})
		switch {
		case ctx.Err() != nil:
		case err != nil:
			told <- fmt.Sprintf("There is no certificate for %s yet: %v\nIt is asked for again when the next phone calls. The name has to lead here, with its port 443.", p.name, err)
		default:
			told <- fmt.Sprintf("The certificate of %s is here, and is renewed while this runs.", p.name)
		}
	}()
	return told
}
