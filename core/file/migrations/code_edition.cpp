#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/file/migrations/migrations.h"
#include "core/yard/records.h"

namespace yw::file {
namespace {

using Json = nlohmann::ordered_json;

/// The known edition of the same year; the newest where the text names none.
std::string editionFor(const std::string& typed) {
  const auto& known = yard::words(yard::CodeEdition{});
  for (const yard::ChoiceWord& word : known) {
    const std::string name = word.name, year = name.substr(name.size() - 4);
    if (typed.find(year) != std::string::npos) return name;
  }
  return known.back().name;
}

}  // namespace

std::vector<base::Message> takeKnownEdition(RawFile& raw) {
  std::vector<base::Message> notes;
  for (RawRecord& record : raw.records) {
    if (record.json.find("\"code_edition\"") == std::string::npos) continue;
    Json json = Json::parse(record.json, nullptr, false);
    if (!json.is_object() || !json.contains("code_edition") || !json["code_edition"].is_string()) continue;
    const auto typed = json["code_edition"].get<std::string>();
    const auto& known = yard::words(yard::CodeEdition{});
    if (std::any_of(known.begin(), known.end(), [&](const auto& word) { return typed == word.name; }))
      continue;
    const std::string taken = editionFor(typed);
    json["code_edition"] = taken;
    record.json = json.dump();
    notes.push_back({"file_edition_taken", {{"typed", typed}, {"edition", taken}}});
  }
  return notes;
}

}  // namespace yw::file
