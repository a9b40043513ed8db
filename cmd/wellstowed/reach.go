package main

import (
	"context"
	"crypto/tls"
	"fmt"
	"net"
	"net/netip"
	"regexp"
	"slices"
	"time"

	"github.com/spf13/pflag"

	"wellstowed/orders/people"
	"wellstowed/web"
)

// reachFlags say how others than this machine reach the pages.
type reachFlags struct {
	name, cert, key string
	proxy           string
	lan, trust      string
	acme            acmeFlags
}

func (r *reachFlags) flags(f *pflag.FlagSet) {
	f.StringVar(&r.name, "name", "", "name that others reach the pages by, such as yard.example; with --acme, --tls-cert and --tls-key, or --proxy")
	f.StringVar(&r.cert, "tls-cert", "", "file with the certificate of the name and those that signed it, PEM")
	f.StringVar(&r.key, "tls-key", "", "file with the certificate's private key, PEM")
	f.StringVar(&r.proxy, "proxy", "", "network of the proxy that ends TLS for the name, such as 127.0.0.1/32: it alone is answered")
	f.StringVar(&r.lan, "lan", "", "name in your own network, such as yard.local: the program vouches for it itself, and each phone is told once to trust that")
	r.acme.flags(f)
	f.StringVar(&r.trust, "trust-listen", ":8444", "with --lan, address where phones get the certificate, in the clear and nothing else")
}

// endsTLS tells whether this program itself answers others.
func (r reachFlags) endsTLS() bool { return r.lan != "" || r.name != "" && r.proxy == "" }

var dnsName = regexp.MustCompile(`^([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)+$`)

// check refuses flags that don't go together, before anything is opened.
func (r reachFlags) check(ctx context.Context, f serveFlags) error {
	files := r.cert != "" || r.key != ""
	switch {
	case r.lan != "" && (r.name != "" || r.proxy != "" || r.acme.on || files):
		return refuse("serve: --lan vouches for its name itself, so it goes with none of --name, --acme, --tls-cert, --tls-key and --proxy")
	case r.lan != "" && f.demo:
		return refuse("serve: the demonstration signs nobody in, so it stays on this machine; leave --lan out")
	case r.lan != "":
		return checkLANName(r.lan)
	case r.name == "" && (files || r.proxy != "" || r.acme.on):
		return refuse("serve: --acme, --tls-cert, --tls-key and --proxy need --name; accepted: the name that others reach the pages by, such as yard.example")
	case r.name == "":
		return loopbackOnly(ctx, f.listen)
	case f.demo:
		return refuse("serve: the demonstration signs nobody in, so it stays on this machine; leave --name out")
	case !dnsName.MatchString(r.name) || len(r.name) > 253 || net.ParseIP(r.name) != nil:
		return refuse("--name: read %q; accepted: a name in small letters without port, such as yard.example", r.name)
	case files && r.proxy != "":
		return refuse("serve: either this program ends TLS (--tls-cert, --tls-key) or a proxy does (--proxy); read both")
	case r.acme.on && (files || r.proxy != ""):
		return refuse("serve: --acme gets the certificate itself, so it goes with none of --tls-cert, --tls-key and --proxy")
	case r.proxy == "" && !r.acme.on && (r.cert == "" || r.key == ""):
		return refuse("serve: without TLS everybody on the way could read and change what is sent, so --name needs --acme, --tls-cert and --tls-key, or --proxy")
	}
	return r.acme.check()
}

// A way is how the pages are reached; the zero way is this machine alone.
type way struct {
	name    string
	hosts   []string
	tls     *tls.Config
	proxies []netip.Prefix
	lan     *authority
	public  *publicAuthority
}

// way reads what the flags name. It refuses to answer others where there are no people:
// nobody could be told from anybody.
func (r reachFlags) way(ctx context.Context, s *people.Service, db string, clock func() time.Time) (w way, err error) {
	if r.name == "" && r.lan == "" {
		return way{}, nil
	}
	v, err := s.Visitor(ctx, "")
	switch {
	case err != nil:
		return way{}, err
	case v.Nobody:
		return way{}, refuse("serve: nobody signs in yet, so only this machine may reach the pages; add the first owner with: wellstowed owner add NAME")
	}
	if r.lan != "" {
		return r.wayOfOwn(db, clock)
	}
	w = way{name: r.name, hosts: []string{r.name}}
	if r.proxy != "" {
		err := w.behind(r.proxy)
		return w, err
	}
	if r.acme.on {
		return r.wayOfPublic(db)
	}
	files := &certFiles{cert: r.cert, key: r.key}
	if _, err := files.read(); err != nil {
		return way{}, refuse("serve: the certificate can't be used: %w", err)
	}
	w.tls = &tls.Config{MinVersion: tls.VersionTLS12, GetCertificate: files.forHello}
	return w, nil
}

// wayOfOwn is by a name that the shop's own authority vouches for.
func (r reachFlags) wayOfOwn(db string, clock func() time.Time) (way, error) {
	own, err := openAuthority(db, r.lan, clock)
	if err != nil {
		return way{}, err
	}
	return way{name: r.lan, hosts: []string{r.lan}, lan: own, tls: &tls.Config{MinVersion: tls.VersionTLS12, GetCertificate: own.forHello}}, nil
}

// wayOfPublic is by a name that a public authority vouches for.
func (r reachFlags) wayOfPublic(db string) (way, error) {
	public, err := r.acme.authority(db, r.name)
	if err != nil {
		return way{}, err
	}
	return way{name: r.name, hosts: []string{r.name}, public: public, tls: public.tls()}, nil
}

// trusted is what the pages say of the shop's own authority, and where phones get it; nil
// without one.
func (w way) trusted(address string) (web.Trust, net.Listener, error) {
	if w.lan == nil {
		return web.Trust{}, nil, nil
	}
	l, err := net.Listen("tcp", address)
	if err != nil {
		return web.Trust{}, nil, fmt.Errorf("cannot listen on %s: %w; give another address with --trust-listen", address, err)
	}
	base := fmt.Sprintf("http://%s:%d", w.name, l.Addr().(*net.TCPAddr).Port)
	return web.Trust{Certificate: w.lan.cert.Raw, Fingerprint: w.lan.fingerprint(), Base: base}, l, nil
}

// behind answers a proxy in the network alone.
func (w *way) behind(network string) error {
	p, err := netip.ParsePrefix(network)
	if err != nil || p.Bits() == 0 {
		return refuse("--proxy: read %q; accepted: the network of the proxy alone, such as 127.0.0.1/32", network)
	}
	w.proxies = []netip.Prefix{p.Masked()}
	return nil
}

// over puts TLS over the listener, where there is some, and gives the address that others
// reach it by, "" for nobody.
func (w way) over(l net.Listener) (net.Listener, string) {
	switch {
	case w.name == "":
		return l, ""
	case w.tls == nil: // the proxy has the port that everybody takes
		return l, "https://" + w.name
	}
	base := "https://" + w.name
	if port := l.Addr().(*net.TCPAddr).Port; port != 443 {
		base = fmt.Sprintf("%s:%d", base, port)
	}
	return tls.NewListener(l, w.tls), base
}

// loopbackOnly refuses an address that another machine could reach.
func loopbackOnly(ctx context.Context, address string) error {
	host, _, err := net.SplitHostPort(address)
	if err != nil {
		return refuse("--listen: read %q: %w; accepted: an address and port such as 127.0.0.1:8128", address, err)
	}
	if !loopback(ctx, host) {
		return refuse("--listen: read %q: anybody who can reach that address could read and change the shop's orders, "+
			"and what passes between would be in the clear; accepted: an address of this machine alone, such as 127.0.0.1:8128", address)
	}
	return nil
}

// loopback tells whether a name or address leads to this machine alone.
func loopback(ctx context.Context, host string) bool {
	addrs, err := net.DefaultResolver.LookupIPAddr(ctx, host)
	return host != "" && err == nil && !slices.ContainsFunc(addrs, func(a net.IPAddr) bool { return !a.IP.IsLoopback() })
}
