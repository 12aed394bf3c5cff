#include "core/file/migrations/migrations.h"

#include <array>

#include "core/file/limits.h"

namespace yw::file {
namespace {

/// Row n brings version n to n + 1.
constexpr std::array<base::Message (*)(RawFile&), kFormatVersion> kSteps{fromVersion0};

}  // namespace

std::vector<base::Message> migrate(RawFile& raw) {
  std::vector<base::Message> notes;
  for (; raw.version < kFormatVersion; ++raw.version)
    notes.push_back(kSteps[static_cast<std::size_t>(raw.version)](raw));
  for (base::Message& note : takeKnownEdition(raw)) notes.push_back(std::move(note));
  return notes;
}

}  // namespace yw::file
