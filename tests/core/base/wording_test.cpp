#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "core/base/message.h"
#include "core/base/resource.h"

namespace yw::base {
namespace {

namespace fs = std::filesystem;

std::string contentOf(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

constexpr std::string_view kKeyLetters = "abcdefghijklmnopqrstuvwxyz0123456789_";

std::string_view withoutBlanksAtEnd(std::string_view text) {
  return text.substr(0, text.find_last_not_of(" \t\r\n") + 1);
}

/// True where `before` ends with `Message` or with `fail(ErrorCode::…,`: the brace that follows begins a
/// message.
bool beginsMessage(std::string_view before) {
  before = withoutBlanksAtEnd(before);
  if (before.ends_with("Message")) return true;
  if (!before.ends_with(',')) return false;
  before.remove_suffix(1);
  const std::size_t code = before.find_last_of("(){},\"");  // the code itself holds none of these
  return code != std::string_view::npos && before.substr(0, code + 1).ends_with("fail(");
}

void addKeys(std::string_view source, const std::string& file, std::map<std::string, std::string>& keys) {
  for (std::size_t brace = 0; (brace = source.find('{', brace)) != std::string_view::npos; ++brace) {
    const std::size_t quote = source.find_first_not_of(" \t\r\n", brace + 1);
    if (quote == std::string_view::npos || source[quote] != '"' || !beginsMessage(source.substr(0, brace)))
      continue;
    const std::size_t end = source.find_first_not_of(kKeyLetters, quote + 1);
    if (end == std::string_view::npos || end == quote + 1 || source[end] != '"') continue;
    keys.emplace(std::string(source.substr(quote + 1, end - quote - 1)), file);
  }
}

/// Keys that the sources use, with the first file that uses each.
std::map<std::string, std::string> usedKeys() {
  std::map<std::string, std::string> keys;
  for (const char* room : {"core", "ui", "app"})
    for (const auto& file : fs::recursive_directory_iterator(fs::path(YARDWRIGHT_ROOT) / room)) {
      const fs::path& path = file.path();
      if (path.extension() == ".cpp" || path.extension() == ".h")
        addKeys(contentOf(path), fs::relative(path, YARDWRIGHT_ROOT).string(), keys);
    }
  return keys;
}

TEST(Wording, TheSearchFindsKeysHoweverTheyAreWritten) {
  std::map<std::string, std::string> keys;
  addKeys(
      "say(Message{\"one\", {}}); base::Message m{\"not_seen\"}; return fail(ErrorCode::BadInput,\n  "
      "{\"two\", {}});"
      "return base::fail(base::ErrorCode::BadInput, base::Message{ \"three\"}); list({\"four\"}, "
      "{\"five\"});"
      "fail(code, {\"six\", {{\"fact\", 1}, {\"other\", 2}}});",
      "here", keys);
  EXPECT_EQ(keys, (std::map<std::string, std::string>{
                      {"one", "here"}, {"two", "here"}, {"three", "here"}, {"six", "here"}}));
}

TEST(Wording, EveryKeyThatTheSourcesUseHasIt) {
  const auto keys = usedKeys();
  EXPECT_GE(keys.size(), 5U) << "the search no longer finds the keys";
  for (const auto& [key, file] : keys)
    EXPECT_TRUE(hasWording(key)) << key << ", used in " << file << ", has no line in resources/messages";
}

/// key, text, and where it stands, of every line of every file.
struct Line {
  std::string key, text, place;
};
std::vector<Line> allLines() {
  std::vector<Line> lines;
  for (const Resource& resource : resources()) {
    if (!resource.path.starts_with("messages/")) continue;
    std::istringstream in{std::string(resource.bytes)};
    int number = 0;
    for (std::string line; std::getline(in, line);) {
      const std::string place = std::string(resource.path) + " line " + std::to_string(++number);
      if (line.empty() || line.front() == '#') continue;
      const std::size_t equals = line.find(" = ");
      if (equals == std::string::npos)
        ADD_FAILURE() << place << " is neither `key = text` nor a # comment";
      else
        lines.push_back({line.substr(0, equals), line.substr(equals + 3), place});
    }
  }
  return lines;
}

TEST(Resources, AreInTheOrderOfTheirPaths) {
  for (std::size_t i = 1; i < resources().size(); ++i)
    EXPECT_LT(resources()[i - 1].path, resources()[i].path);
  EXPECT_FALSE(resources().empty());
}

TEST(Wording, EachKeyStandsOnce) {
  std::set<std::string> seen;
  for (const Line& line : allLines())
    EXPECT_TRUE(seen.insert(line.key).second) << line.key << ", " << line.place;
}

/// The text without its `{fact}` and `{fact|one|several}` places and without braces that only stand for
/// braces.
std::string withoutFacts(std::string text) {
  for (std::size_t open = 0; (open = text.find('{', open)) != std::string::npos;) {
    std::size_t close = text.find_first_not_of(kKeyLetters, open + 1);
    bool fact = close != std::string::npos && close > open + 1 && (text[close] == '}' || text[close] == '|');
    if (fact && text[close] == '|') {
      const std::size_t between = text.find('|', close + 1), end = text.find_first_of("{}", close + 1);
      fact = end != std::string::npos && text[end] == '}' && between < end;
      close = end;
    }
    if (!fact && text.compare(open, 3, "{ }") != 0) return text;
    text.erase(open, fact ? close - open + 1 : 3);
  }
  return text;
}

TEST(Wording, EachLineIsWhole) {
  for (const Line& line : allLines()) {
    SCOPED_TRACE(line.place);
    EXPECT_EQ(line.key.find_first_not_of(kKeyLetters), std::string::npos) << line.key;
    EXPECT_FALSE(line.key.empty());
    EXPECT_FALSE(line.text.empty());
    EXPECT_EQ(withoutFacts(line.text).find_first_of("{}"), std::string::npos) << line.text;
  }
}

}  // namespace
}  // namespace yw::base
