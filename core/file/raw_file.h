#pragma once
// A yard file taken apart, before anything is read as a record. Migrations work on this.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"

namespace yw::file {

struct RawRecord {
  std::string json;
  std::int64_t line;  ///< where it begins in the file, 1-based
};

struct RawBlob {
  std::string key, base64;
  std::int64_t line;
};

struct RawFile {
  std::int64_t version = 0;
  std::int64_t nextId = 1;
  std::vector<RawRecord> records;
  std::vector<RawBlob> blobs;
};

/// Takes the bytes apart. Errors: too large, not text, not JSON or cut off, not ours, newer, parts missing or
/// unknown.
base::Result<RawFile> takeApart(std::string_view bytes);

/// Lines from the start of `json` down to a field given as `items[3].prop`; 0 if it is not there.
std::int64_t linesBefore(const std::string& json, const std::string& field);

}  // namespace yw::file
