#!/usr/bin/env bash
# SPDX-License-Identifier: Apache-2.0
# Makes the Debian package of a build folder and looks into it: does the program in it run, are
# manual, completions and desktop entry there, has lintian (where it is installed) anything to say?
#
#     tests/app/package.sh BUILD_FOLDER
#
# Ends with 77 where packages cannot be made.
set -euo pipefail
command -v dpkg-deb >/dev/null && command -v dpkg-shlibdeps >/dev/null || exit 77
build=$1
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
(cd "$build" && cpack -B "$place/packed" >"$place/said") || { cat "$place/said"; exit 1; }
package=$(ls "$place"/packed/*.deb)
dpkg-deb -x "$package" "$place/root"
"$place/root/usr/bin/lidwright" --version
for file in share/man/man1/lidwright.1.gz share/bash-completion/completions/lidwright \
  share/applications/lidwright.desktop share/icons/hicolor/scalable/apps/lidwright.svg \
  share/doc/lidwright/copyright share/doc/lidwright/changelog.gz share/doc/lidwright/CHANGELOG.md.gz; do
  [ -s "$place/root/usr/$file" ] || { echo "usr/$file is not in the package" >&2; exit 1; }
done
grep -q '^Exec=lidwright mockup' "$place/root/usr/share/applications/lidwright.desktop"
depends=$(dpkg-deb -f "$package" Depends)
for name in libc6 libcairo2 libgeos-c1v5 fonts-dejavu-core; do
  [[ "$depends" == *"$name"* ]] || { echo "does not depend on $name: $depends" >&2; exit 1; }
done
if command -v lintian >/dev/null; then
  lintian --allow-root --fail-on error,warning "$package"
else
  echo "lintian is not installed: not asked"
fi
