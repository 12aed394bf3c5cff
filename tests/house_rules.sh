#!/usr/bin/env bash
# Rules of this house that a compiler does not hold: prints each breach, exits 1 if there is one.
set -uo pipefail
cd "$(dirname "$(readlink -f "$0")")/.."
bad=0
breach() { # TITLE, then the lines on standard input
  local lines; lines=$(cat)
  [ -z "$lines" ] && return
  echo "$1"; echo "$lines" | head -12; bad=1
}
git grep -nE '#include *[<"]Q[A-Z]' -- core | breach "core must not know Qt:"
git grep -nE '\b(QVERIFY|QCOMPARE|QTRY_[A-Z]+)\b' -- tests ':!tests/house_rules.sh' | breach "QTest macros do not fail a GoogleTest:"
git grep -nE '\b(std::sto[dfil]|strtod|atof|sprintf|snprintf)\b' -- core ui app | breach "Numbers that depend on the locale:"
git grep -nE '#include *<nlohmann/json.hpp>' -- '*.h' | breach "json.hpp belongs in sources, not headers:"
git grep -nE 'GTEST_SKIP|DISABLED_|EXPECT_TRUE\(true\)|ASSERT_TRUE\(true\)' -- tests ':!tests/house_rules.sh' | breach "Tests that do not run or cannot fail:"
git grep -nE '#include *"(ui|app)/' -- core | breach "core must not know the faces:"
git grep -niE '\b(todo|fixme|xxx)\b' -- core ui app tests resources ':!tests/house_rules.sh' | breach "Unfinished words:"
exit $bad
