#include <nlohmann/json.hpp>

#include "core/file/migrations/migrations.h"

namespace yw::file {
namespace {

using Json = nlohmann::ordered_json;

/// The same group with `cap` under its new name and the address mode of that time.
Json renewed(const Json& settings) {
  Json out = Json::object();
  for (const auto& [name, value] : settings.items()) out[name == "cap" ? "brightness_limit" : name] = value;
  if (!out.contains("address_mode")) out["address_mode"] = "whole_pixel";
  return out;
}

}  // namespace

base::Message fromVersion0(RawFile& raw) {
  for (RawRecord& record : raw.records) {
    const Json json = Json::parse(record.json, nullptr, false);
    const bool isSettings = json.is_object() && json.contains("kind") && json["kind"] == "settings";
    // With both names there it is not clear which one counts: the reader refuses the old one by name.
    if (isSettings && !json.contains("brightness_limit")) record.json = renewed(json).dump();
  }
  return {"file_migrated_0", {}};
}

}  // namespace yw::file
