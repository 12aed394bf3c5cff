#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
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

/// Keys that the sources use, with the first file that uses each.
std::map<std::string, std::string> usedKeys() {
  // Message{"key", base::Message{"key", and the message of fail(code, {"key".
  const std::regex use(R"re((?:Message\s*\{|fail\(\s*[\w:]+,\s*\{)\s*"([a-z0-9_]+)")re");
  std::map<std::string, std::string> keys;
  for (const char* room : {"core", "ui", "app"})
    for (const auto& file : fs::recursive_directory_iterator(fs::path(YARDWRIGHT_ROOT) / room)) {
      const fs::path& path = file.path();
      if (path.extension() != ".cpp" && path.extension() != ".h") continue;
      const std::string content = contentOf(path);
      for (auto it = std::sregex_iterator(content.begin(), content.end(), use); it != std::sregex_iterator();
           ++it)
        keys.emplace((*it)[1], fs::relative(path, YARDWRIGHT_ROOT).string());
    }
  return keys;
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

TEST(Wording, EachKeyStandsOnce) {
  std::set<std::string> seen;
  for (const Line& line : allLines())
    EXPECT_TRUE(seen.insert(line.key).second) << line.key << ", " << line.place;
}

TEST(Wording, EachLineIsWhole) {
  const std::regex key("[a-z0-9_]+"), braces(R"(\{([a-z0-9_]+| )\})");
  for (const Line& line : allLines()) {
    SCOPED_TRACE(line.place);
    EXPECT_TRUE(std::regex_match(line.key, key)) << line.key;
    EXPECT_FALSE(line.text.empty());
    const std::string rest = std::regex_replace(line.text, braces, "");
    EXPECT_EQ(rest.find_first_of("{}"), std::string::npos) << line.text;
  }
}

}  // namespace
}  // namespace yw::base
