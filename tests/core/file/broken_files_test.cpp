// Every file in tests/files/broken is refused with the words of the .expect file beside it, one fragment a
// line.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>

#include "core/file/yard_file.h"

namespace yw::file {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> brokenFiles() {
  std::vector<fs::path> found;
  for (const auto& entry : fs::directory_iterator(fs::path(YARDWRIGHT_ROOT) / "tests/files/broken"))
    if (entry.path().extension() == ".yard") found.push_back(entry.path());
  std::sort(found.begin(), found.end());
  return found;
}

TEST(BrokenFiles, AreThere) { EXPECT_GE(brokenFiles().size(), 80u); }

TEST(BrokenFiles, AreRefusedWithPlaceAndReason) {
  for (const fs::path& path : brokenFiles()) {
    SCOPED_TRACE(path.filename());
    const auto opened = open(path);
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().code, base::ErrorCode::Unreadable);
    EXPECT_TRUE(base::hasWording(opened.error().message.key)) << opened.error().message.key;
    const std::string text = base::text(opened.error());
    std::ifstream expectations(fs::path(path).replace_extension(".expect"));
    ASSERT_TRUE(expectations.is_open()) << "no .expect file beside it";
    int lines = 0;
    for (std::string line; std::getline(expectations, line); ++lines)
      EXPECT_NE(text.find(line), std::string::npos) << "expected: " << line << "\nsays: " << text;
    EXPECT_GE(lines, 1);
  }
}

}  // namespace
}  // namespace yw::file
