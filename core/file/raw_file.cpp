#include "core/file/raw_file.h"

#include <algorithm>
#include <charconv>
#include <nlohmann/json.hpp>
#include <optional>

#include "core/file/json_scan.h"
#include "core/file/limits.h"
#include "core/yard/member_type.h"

namespace yw::file {
namespace {

using Json = nlohmann::json;
using base::ErrorCode;

tl::unexpected<base::Error> refuse(base::Message message, std::string where = {}) {
  return base::fail(ErrorCode::Unreadable, std::move(message), std::move(where));
}

std::string lineText(std::int64_t line) { return "line " + std::to_string(line); }

/// Listens to the parser and keeps only where it stopped.
class Syntax : public nlohmann::json_sax<Json> {
 public:
  bool null() override { return true; }
  bool boolean(bool) override { return true; }
  bool number_integer(number_integer_t) override { return true; }
  bool number_unsigned(number_unsigned_t) override { return true; }
  bool number_float(number_float_t, const string_t&) override { return true; }
  bool string(string_t&) override { return true; }
  bool binary(binary_t&) override { return true; }
  bool start_object(std::size_t) override { return deeper(); }
  bool key(string_t&) override { return true; }
  bool end_object() override { return shallower(); }
  bool start_array(std::size_t) override { return deeper(); }
  bool end_array() override { return shallower(); }
  bool parse_error(std::size_t position, const std::string&, const Json::exception&) override {
    stoppedAt = position;
    return false;
  }
  std::size_t stoppedAt = 0;  ///< 1-based place of the last byte read
  bool tooDeep() const { return depth_ > kDeepest; }

 private:
  static constexpr int kDeepest = 64;  // records need 6; without a limit a file could use up the stack
  bool deeper() { return ++depth_ <= kDeepest; }
  bool shallower() {
    --depth_;
    return true;
  }
  int depth_ = 0;
};

base::Result<void> checkSyntax(std::string_view bytes) {
  Syntax syntax;
  if (Json::sax_parse(bytes, &syntax)) return {};
  if (syntax.tooDeep()) return refuse({"file_too_deep", {}});
  const std::size_t at = syntax.stoppedAt == 0 ? 0 : syntax.stoppedAt - 1;
  const std::size_t lineStart = at == 0 ? 0 : bytes.rfind('\n', at - 1) + 1;
  const std::string where = lineText(lineOf(bytes, at)) + ", column " + std::to_string(at - lineStart + 1);
  if (skipSpace(bytes, at) >= bytes.size()) return refuse({"file_cut_off", {}}, where);
  return refuse({"file_not_json", {}}, where);
}

const Span* memberOf(const std::vector<Span>& members, const std::string& key) {
  for (const Span& member : members)
    if (member.key == key) return &member;
  return nullptr;
}

/// A whole number among the top members; nothing if it is missing or another type.
std::optional<std::int64_t> numberAt(std::string_view bytes, const std::vector<Span>& members,
                                     const std::string& key) {
  const Span* member = memberOf(members, key);
  if (member == nullptr) return {};
  std::int64_t value = 0;
  const char* end = bytes.data() + member->end;
  const auto read = std::from_chars(bytes.data() + member->begin, end, value);
  if (read.ec != std::errc{} || read.ptr != end) return {};
  return value;
}

base::Result<void> checkVersion(std::string_view bytes, const std::vector<Span>& members) {
  const Span* format = memberOf(members, "format");
  if (format == nullptr || bytes.substr(format->begin, format->end - format->begin) != "\"yardwright\"")
    return refuse({"file_not_ours", {}});
  const auto version = numberAt(bytes, members, "version");
  if (!version || *version < 0) return refuse({"file_no_version", {}}, "version");
  if (*version > kFormatVersion)
    return refuse(
        {"file_newer",
         {{"needed", *version}, {"ours", kFormatVersion}, {"program", std::string(YARDWRIGHT_VERSION)}}});
  return {};
}

base::Result<void> checkMembers(std::string_view bytes, const std::vector<Span>& members) {
  static const std::vector<std::string> kKnown{"format", "version", "next_id", "records", "blobs"};
  for (std::size_t i = 0; i < members.size(); ++i) {
    const std::string where = lineText(lineOf(bytes, members[i].begin));
    if (std::find(kKnown.begin(), kKnown.end(), members[i].key) == kKnown.end())
      return refuse({"file_unknown_part", {{"name", members[i].key}}}, where);
    if (memberOf(members, members[i].key) != &members[i])
      return refuse({"record_doubled_name", {{"name", members[i].key}}}, where);
  }
  const auto nextId = numberAt(bytes, members, "next_id");
  if (!nextId || *nextId < 1 || *nextId > yard::kLargestNumber)
    return refuse({"file_no_next_id", {}}, "next_id");
  const Span* records = memberOf(members, "records");
  if (records == nullptr || bytes[records->begin] != '[') return refuse({"file_no_records", {}}, "records");
  const Span* blobs = memberOf(members, "blobs");
  if (blobs != nullptr && bytes[blobs->begin] != '{')
    return refuse({"file_blobs_not_a_group", {}}, lineText(lineOf(bytes, blobs->begin)));
  return {};
}

/// Counts lines while going forward, so that a large file is read once.
class LineCounter {
 public:
  explicit LineCounter(std::string_view text) : text_(text) {}
  std::int64_t at(std::size_t place) {
    line_ += lineOf(text_.substr(from_, place - from_), place - from_) - 1;
    from_ = place;
    return line_;
  }

 private:
  std::string_view text_;
  std::size_t from_ = 0;
  std::int64_t line_ = 1;
};

base::Result<std::vector<RawBlob>> blobsAt(std::string_view bytes, const Span& group) {
  std::vector<RawBlob> blobs;
  LineCounter lines(bytes);
  for (const Span& part : partsOf(bytes, group.begin)) {
    const std::int64_t line = lines.at(part.begin);
    const auto value = Json::parse(bytes.substr(part.begin, part.end - part.begin), nullptr, false);
    if (!value.is_string()) return refuse({"file_blob_damaged", {{"key", part.key}}}, lineText(line));
    blobs.push_back({part.key, value.get<std::string>(), line});
  }
  return blobs;
}

}  // namespace

base::Result<RawFile> takeApart(std::string_view bytes) {
  if (bytes.size() > kMostBytes) return refuse({"file_too_large", {{"most", kMostBytes / 1'000'000}}});
  if (skipSpace(bytes, 0) >= bytes.size()) return refuse({"file_empty", {}});
  if (const std::size_t nul = bytes.find('\0'); nul != std::string_view::npos)
    return refuse({"file_not_text", {}}, lineText(lineOf(bytes, nul)));
  const std::size_t start = skipSpace(bytes, 0);
  if (bytes[start] != '{') return refuse({"file_not_ours", {}});
  if (const auto good = checkSyntax(bytes); !good) return tl::unexpected(good.error());
  const auto members = partsOf(bytes, start);
  if (const auto good = checkVersion(bytes, members); !good) return tl::unexpected(good.error());
  if (const auto good = checkMembers(bytes, members); !good) return tl::unexpected(good.error());

  RawFile raw{*numberAt(bytes, members, "version"), *numberAt(bytes, members, "next_id"), {}, {}};
  LineCounter lines(bytes);
  for (const Span& part : partsOf(bytes, memberOf(members, "records")->begin))
    raw.records.push_back(
        {std::string(bytes.substr(part.begin, part.end - part.begin)), lines.at(part.begin)});
  if (const Span* blobs = memberOf(members, "blobs")) {
    auto read = blobsAt(bytes, *blobs);
    if (!read) return tl::unexpected(read.error());
    raw.blobs = *std::move(read);
  }
  return raw;
}

std::int64_t linesBefore(const std::string& json, const std::string& field) {
  std::size_t at = skipSpace(json, 0);
  for (std::size_t from = 0; from < field.size();) {
    if (at >= json.size() || (json[at] != '{' && json[at] != '[')) break;
    const auto parts = partsOf(json, at);
    const Span* found = nullptr;
    if (field[from] == '[') {
      std::size_t index = 0;
      std::from_chars(field.data() + from + 1, field.data() + field.size(), index);
      if (index < parts.size()) found = &parts[index];
      from = std::min(field.find(']', from), field.size() - 1) + 1;
    } else {
      const std::size_t end = std::min(field.find_first_of(".[", from), field.size());
      found = memberOf(parts, field.substr(from, end - from));
      from = end;
    }
    if (found == nullptr) break;
    at = found->begin;
    if (from < field.size() && field[from] == '.') ++from;
  }
  return lineOf(json, at) - 1;
}

}  // namespace yw::file
