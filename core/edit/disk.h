#pragma once
#include <filesystem>
#include <string>
#include <string_view>

namespace yw::edit {

/// A system error number in plain words: `the disk is full`.
std::string diskReason(int error);

/// Writes all of it to an open file; the error number, or 0.
int writeAll(int fd, std::string_view bytes);

/// Makes names in a folder last through a power cut; the error number, or 0 (also where a folder cannot be
/// flushed).
int flushFolder(const std::filesystem::path& folder);

}  // namespace yw::edit
