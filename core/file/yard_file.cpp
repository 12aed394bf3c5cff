#include "core/file/yard_file.h"

#include <cerrno>
#include <fstream>
#include <set>

#include "core/base/hash.h"
#include "core/edit/disk.h"
#include "core/file/check.h"
#include "core/file/ideas_in_file.h"
#include "core/file/limits.h"
#include "core/file/migrations/migrations.h"
#include "core/file/raw_file.h"
#include "core/yard/codec.h"

namespace yw::file {
namespace fs = std::filesystem;
namespace {

using base::ErrorCode;
using base::Id;
using Lines = std::map<Id, std::int64_t>;

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

tl::unexpected<base::Error> refuse(base::Message message, std::string where = {}) {
  return base::fail(ErrorCode::Unreadable, std::move(message), std::move(where));
}

/// Puts the line before a record's error: that of the field where it can be told.
base::Error withLine(base::Error error, const RawRecord& record) {
  constexpr std::string_view kMark = ", field ";
  const std::size_t mark = error.where.rfind(kMark);
  const std::string field = mark == std::string::npos ? "" : error.where.substr(mark + kMark.size());
  error.where = "line " + std::to_string(record.line + linesBefore(record.json, field)) +
                (error.where.empty() ? "" : ", ") + error.where;
  return error;
}

base::Result<void> readRecords(const RawFile& raw, yard::Yard& yard, Lines& lines) {
  for (const RawRecord& record : raw.records) {
    auto decoded = yard::decode(record.json);
    if (!decoded) return tl::unexpected(withLine(decoded.error(), record));
    auto& [id, value] = *decoded;
    if (const auto first = lines.find(id); first != lines.end())
      return refuse({"file_doubled_id",
                     {{"id", std::to_string(id.value)},
                      {"first", recordName(yard, id)},
                      {"line", std::to_string(first->second)}}},
                    "line " + std::to_string(record.line) + ", field id");
    lines.emplace(id, record.line);
    yard.records.emplace(id, std::make_shared<const yard::Record>(std::move(value)));
  }
  return {};
}

base::Result<void> readBlobs(const RawFile& raw, yard::Yard& yard) {
  for (const RawBlob& blob : raw.blobs) {
    bool ok = false;
    std::string bytes = base::fromBase64(blob.base64, ok);
    const std::string where = "line " + std::to_string(blob.line);
    if (yard.blobs.contains(blob.key)) return refuse({"record_doubled_name", {{"name", blob.key}}}, where);
    if (!ok || base::sha256(bytes) != blob.key)
      return refuse({"file_blob_damaged", {{"key", blob.key}}}, where);
    yard.blobs.emplace(blob.key, std::make_shared<const std::string>(std::move(bytes)));
  }
  return {};
}

/// A picture that a record names and that is not there: the record forgets it.
void forgetMissingPictures(yard::Yard& yard, std::vector<base::Message>& notes) {
  for (auto& [id, record] : yard.records) {
    const std::string* key = yard::blobOf(*record);
    if (key == nullptr || yard.blobs.contains(*key)) continue;
    yard::Record without = *record;
    if (auto* site = std::get_if<yard::Site>(&without)) site->photo.clear();
    if (auto* wall = std::get_if<yard::Wall>(&without)) wall->photo.clear();
    record = std::make_shared<const yard::Record>(std::move(without));
    notes.push_back({"file_picture_missing", {}});
  }
}

std::set<std::string> namedBlobs(const yard::Yard& yard) {
  std::set<std::string> named;
  for (const auto& [id, record] : yard.records) {
    if (const std::string* key = yard::blobOf(*record)) named.insert(*key);
    if (const auto* idea = std::get_if<yard::Idea>(record.get())) named.merge(picturesOf(*idea));
  }
  return named;
}

/// All of reading but the question whether the bytes are as we would write them.
base::Result<Opened> read(std::string_view bytes) {
  Opened opened;
  if (bytes.starts_with(kByteOrderMark)) {
    bytes.remove_prefix(kByteOrderMark.size());
    opened.notes.push_back({"file_had_mark", {}});
  }
  auto raw = takeApart(bytes);
  if (!raw) return tl::unexpected(raw.error());
  if (bytes.find("\r\n") != std::string_view::npos) opened.notes.push_back({"file_had_returns", {}});
  for (base::Message& note : migrate(*raw)) opened.notes.push_back(std::move(note));
  Lines lines;
  opened.yard.nextId = raw->nextId;
  if (const auto good = readRecords(*raw, opened.yard, lines); !good) return tl::unexpected(good.error());
  if (const auto good = readBlobs(*raw, opened.yard); !good) return tl::unexpected(good.error());
  if (const auto good = checkWhole(opened.yard, lines); !good) return tl::unexpected(good.error());
  if (const auto good = tidyIdeas(opened.yard); !good) return tl::unexpected(good.error());
  forgetMissingPictures(opened.yard, opened.notes);
  const auto named = namedBlobs(opened.yard);
  std::erase_if(opened.yard.blobs, [&named](const auto& blob) { return !named.contains(blob.first); });
  return opened;
}

}  // namespace

std::string bytesOf(const yard::Yard& yard) {
  std::string out = "{\"format\":\"yardwright\",\"version\":" + std::to_string(kFormatVersion) +
                    ",\"next_id\":" + std::to_string(yard.nextId) + ",\n\"records\":[";
  const char* before = "\n";
  for (const auto& [id, record] : yard.records) {
    out += before + yard::encode(id, *record);
    before = ",\n";
  }
  out += "\n],\n\"blobs\":{";
  before = "\n";
  for (const std::string& key : namedBlobs(yard)) {
    const auto blob = yard.blobs.find(key);
    if (blob == yard.blobs.end()) continue;
    out += before + ('"' + key + "\":\"") + base::toBase64(*blob->second) + '"';
    before = ",\n";
  }
  return out + "\n}}\n";
}

base::Result<Opened> parse(const std::string& bytes) {
  auto opened = read(bytes);
  if (!opened) return opened;
  opened->normalised = bytesOf(opened->yard) != bytes;
  if (opened->normalised && opened->notes.empty()) opened->notes.push_back({"file_normalised", {}});
  return opened;
}

base::Result<Opened> open(const fs::path& path) {
  std::error_code failed;
  const auto status = fs::status(path, failed);
  if (!fs::exists(status)) return refuse({"file_missing", {{"path", path.string()}}});
  if (fs::is_directory(status)) return refuse({"file_is_folder", {{"path", path.string()}}});
  if (fs::is_regular_file(status) && fs::file_size(path, failed) > static_cast<std::uintmax_t>(kMostBytes))
    return refuse({"file_too_large", {{"most", kMostBytes / 1'000'000}}});
  errno = 0;
  std::ifstream in(path, std::ios::binary);
  if (!in) return refuse({"file_unreadable", {{"path", path.string()}, {"reason", edit::diskReason(errno)}}});
  const std::string bytes{std::istreambuf_iterator<char>(in), {}};
  if (in.bad())
    return refuse({"file_unreadable", {{"path", path.string()}, {"reason", edit::diskReason(EIO)}}});
  return parse(bytes);
}

base::Result<void> checkSavable(const yard::Yard& yard) {
  const auto again = read(bytesOf(yard));
  if (again) return {};
  return tl::unexpected(again.error());
}

base::Result<void> save(const yard::Yard& yard, const fs::path& path) {
  const std::string bytes = bytesOf(yard);
  if (const auto again = read(bytes); !again)  // never write what could not be opened again
    return base::fail(ErrorCode::CannotWrite,
                      {"file_not_savable", {{"path", path.string()}, {"reason", base::text(again.error())}}});
  return writeWhole(path, bytes);
}

}  // namespace yw::file
