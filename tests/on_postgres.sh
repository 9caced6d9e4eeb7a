#!/bin/sh
# Runs the tests that use a database on PostgreSQL: a cluster of its own, on loopback, gone afterwards. The soak tests
# bring databases of their own, and the browser meets the same pages on either.
set -eu
cd "$(dirname "$0")/.."

tools=$(ls -d /usr/lib/postgresql/*/bin | sort -V | tail -1)
place=$(mktemp -d /tmp/dialside-postgres-XXXXXX)
port=$(.venv/bin/python -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])')
if [ "$(id -u)" = 0 ]; then
    chown postgres "$place"
    as() { runuser -u postgres -- "$@"; }
else
    as() { "$@"; }
fi
stop() { as "$tools/pg_ctl" -D "$place/data" -m immediate stop >/dev/null 2>&1 || true; rm -rf "$place"; }
trap stop EXIT
cd "$place"
as "$tools/initdb" -D "$place/data" -A trust -U dialside -E UTF8 --locale=C.UTF-8 >/dev/null
as "$tools/pg_ctl" -D "$place/data" -w -l "$place/log" \
    -o "-p $port -k $place -c listen_addresses=127.0.0.1 -c fsync=off -c full_page_writes=off" start >/dev/null
as "$tools/createdb" -h 127.0.0.1 -p "$port" -U dialside dialside
cd "$OLDPWD"
export PGHOST=127.0.0.1 PGPORT="$port" PGUSER=dialside
export DIALSIDE_DATABASE="postgres://dialside@127.0.0.1:$port/dialside"
.venv/bin/python -m pytest -n 2 --dist worksteal --database --ignore=tests/browser "$@"
