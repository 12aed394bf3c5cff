#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "core/base/message.h"
#include "core/base/resource.h"

namespace yw::papers {
namespace {

namespace fs = std::filesystem;

std::string sources() {
  std::ostringstream all;
  for (const auto& file : fs::recursive_directory_iterator(fs::path(YARDWRIGHT_ROOT) / "core" / "papers"))
    if (file.path().extension() == ".cpp" || file.path().extension() == ".h")
      all << std::ifstream(file.path()).rdbuf();
  return all.str();
}

/// Words in double quotes that may be keys.
std::set<std::string> quotedWords(const std::string& text) {
  std::set<std::string> words;
  for (std::size_t at = 0; (at = text.find('"', at)) != std::string::npos; ++at) {
    const std::size_t end = text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_", at + 1);
    if (end != std::string::npos && text[end] == '"' && end > at + 1)
      words.insert(text.substr(at + 1, end - at - 1));
  }
  return words;
}

std::set<std::string> keysOfTheFile() {
  std::set<std::string> keys;
  for (const base::Resource& resource : base::resources()) {
    if (resource.path != "messages/papers.txt") continue;
    std::istringstream in{std::string(resource.bytes)};
    for (std::string line; std::getline(in, line);)
      if (line.starts_with("papers_")) keys.insert(line.substr(7, line.find(" =") - 7));
  }
  return keys;
}

TEST(PapersWording, EveryKeySaidHasIt) {
  const std::string text = sources();
  std::size_t said = 0;
  for (std::size_t at = 0; (at = text.find("say(\"", at)) != std::string::npos; ++at) {
    const std::size_t end = text.find('"', at + 5);
    const std::string key = text.substr(at + 5, end - at - 5);
    if (text[end + 1] == ' ' || key.ends_with("_")) continue;  // made of a stem and a word: below
    ++said;
    EXPECT_TRUE(base::hasWording("papers_" + key)) << key;
  }
  EXPECT_GE(said, 100U) << "the search no longer finds the keys";
}

TEST(PapersWording, EveryKeyOfTheFileIsSaid) {
  const std::set<std::string> words = quotedWords(sources());
  const std::set<std::string> stems{"sheet_", "caution_", "role_",   "test_step_",
                                    "title_", "head_",    "compare_"};
  for (const std::string& key : keysOfTheFile()) {
    const bool made = std::any_of(stems.begin(), stems.end(), [&](const std::string& stem) {
      if (!key.starts_with(stem)) return false;
      // `head_`, `title_` and `compare_` are built from the keys of columns, tables and lines; the others
      // from kinds, roles and numbers.
      const bool ofAKey = stem == "head_" || stem == "title_" || stem == "compare_";
      return ofAKey ? words.contains(key.substr(stem.size())) : true;
    });
    EXPECT_TRUE(words.contains(key) || made) << key << " is in papers.txt and nowhere said";
  }
}

}  // namespace
}  // namespace yw::papers
