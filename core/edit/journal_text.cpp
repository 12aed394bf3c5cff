#include "core/edit/journal_text.h"

#include <nlohmann/json.hpp>

#include "core/base/hash.h"
#include "core/yard/codec.h"

namespace yw::edit {
namespace {

using Json = nlohmann::ordered_json;

std::string quoted(const std::string& text) {
  return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

base::Message damaged() { return {"journal_damaged", {}}; }

/// Makes one line's effect on the content; a message when the line is not what a journal holds.
class LineReader {
 public:
  explicit LineReader(JournalContent& content) : content_(content) {}

  base::Result<void> read(const std::string& line, bool first) {
    const Json json = Json::parse(line, nullptr, false);
    if (!json.is_object()) return refuse(damaged());
    if (first) return readHead(json);
    if (json.contains("id")) return content_.started ? refuse(damaged()) : readRecord(line);
    if (json.contains("blob")) return readBlob(json);
    if (json.contains("start")) return readStart(json);
    if (json.contains("change")) return readChange(json);
    return refuse(damaged());
  }

 private:
  static tl::unexpected<base::Error> refuse(base::Message message) {
    return base::fail(base::ErrorCode::Unreadable, std::move(message));
  }
  static std::int64_t numberAt(const Json& json, const char* name) {
    const auto it = json.find(name);
    return it != json.end() && it->is_number_integer() ? it->get<std::int64_t>() : 0;
  }
  static std::string textAt(const Json& json, const char* name) {
    const auto it = json.find(name);
    return it != json.end() && it->is_string() ? it->get<std::string>() : std::string{};
  }

  base::Result<void> readHead(const Json& json) {
    if (textAt(json, "journal") != "yardwright") return refuse({"journal_not_ours", {}});
    if (numberAt(json, "version") != kJournalVersion)
      return refuse(
          {"journal_other_version", {{"version", numberAt(json, "version")}, {"ours", kJournalVersion}}});
    content_.yardFile = textAt(json, "yard_file");
    return {};
  }
  base::Result<void> readRecord(const std::string& line) {
    auto record = yard::decode(line);
    if (!record) return tl::unexpected(record.error());
    content_.yard.records[record->first] = std::make_shared<const yard::Record>(std::move(record->second));
    return {};
  }
  base::Result<void> readBlob(const Json& json) {
    bool ok = false;
    std::string bytes = base::fromBase64(textAt(json, "bytes"), ok);
    const std::string key = textAt(json, "blob");
    if (!ok || base::sha256(bytes) != key) return refuse(damaged());
    content_.yard.blobs[key] = std::make_shared<const std::string>(std::move(bytes));
    return {};
  }
  base::Result<void> readStart(const Json& json) {
    content_.started = true;
    content_.yard.nextId = numberAt(json, "next_id");
    return {};
  }
  base::Result<void> readChange(const Json& json) {
    const auto records = json.find("records"), removed = json.find("removed");
    if (!content_.started || records == json.end() || removed == json.end() || !records->is_array() ||
        !removed->is_array())
      return refuse(damaged());
    std::vector<std::pair<Id, yard::Record>> after;
    for (const Json& record : *records) {
      auto decoded = yard::decode(record.dump());
      if (!decoded) return tl::unexpected(decoded.error());
      after.push_back(*std::move(decoded));
    }
    for (const Json& id : *removed)
      if (id.is_number_integer()) content_.yard.records.erase(Id{id.get<std::int64_t>()});
    for (auto& [id, record] : after)
      content_.yard.records[id] = std::make_shared<const yard::Record>(std::move(record));
    content_.yard.nextId = numberAt(json, "next_id");
    content_.lastChange = textAt(json, "change");
    ++content_.changes;
    return {};
  }
  JournalContent& content_;
};

}  // namespace

std::string startLines(const std::string& yardFile, const Yard& yard) {
  std::string out = "{\"journal\":\"yardwright\",\"version\":" + std::to_string(kJournalVersion) +
                    ",\"yard_file\":" + quoted(yardFile) + "}\n";
  for (const auto& [id, record] : yard.records) out += yard::encode(id, *record) + '\n';
  for (const auto& [key, bytes] : yard.blobs) out += blobLine(key, *bytes);
  return out + "{\"start\":true,\"next_id\":" + std::to_string(yard.nextId) + "}\n";
}

std::string changeLine(const Change& change) {
  std::string records, removed;
  for (const Replacement& r : change.replacements) {
    if (r.after == nullptr)
      removed += (removed.empty() ? "" : ",") + std::to_string(r.id.value);
    else
      records += (records.empty() ? "" : ",") + yard::encode(r.id, *r.after);
  }
  return "{\"change\":" + quoted(change.name) + ",\"next_id\":" + std::to_string(change.nextIdAfter) +
         ",\"records\":[" + records + "],\"removed\":[" + removed + "]}\n";
}

std::string blobLine(const std::string& key, const std::string& bytes) {
  return "{\"blob\":" + quoted(key) + ",\"bytes\":\"" + base::toBase64(bytes) + "\"}\n";
}

base::Result<void> readJournal(const std::string& bytes, JournalContent& content) {
  LineReader reader(content);
  std::int64_t number = 1;
  for (std::size_t at = 0; at < bytes.size(); ++number) {
    const std::size_t end = bytes.find('\n', at);
    if (end == std::string::npos) break;  // torn: a whole line ends with a line end
    const std::string line = bytes.substr(at, end - at);
    const bool last = end + 1 == bytes.size();
    if (last && number > 1 && !Json::accept(line)) break;  // torn: some of its blocks never reached the disk
    if (const auto made = reader.read(line, number == 1); !made) {
      const std::string& inner = made.error().where;
      return base::fail(made.error().code, made.error().message,
                        "line " + std::to_string(number) + (inner.empty() ? "" : ", " + inner));
    }
    at = end + 1;
  }
  return {};
}

}  // namespace yw::edit
