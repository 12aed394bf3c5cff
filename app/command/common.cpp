#include <fstream>
#include <iostream>
#include <iterator>

#include "app/command/command.h"
#include "core/file/yard_file.h"

namespace yw::command {

int complain(const base::Error& error) {
  std::cerr << "yardwright: " << base::text(error) << '\n';
  switch (error.code) {
    case base::ErrorCode::BadInput:
      return kUsage;
    case base::ErrorCode::Unreadable:
      return kUnreadable;
    case base::ErrorCode::CannotWrite:
      return kCannotWrite;
  }
  return kUsage;
}

base::Result<yard::Yard> readYard(const std::string& path) {
  base::Result<file::Opened> opened = path == "-"
                                          ? file::parse(std::string(std::istreambuf_iterator<char>(std::cin),
                                                                    std::istreambuf_iterator<char>()))
                                          : file::open(path);
  if (!opened) return tl::unexpected<base::Error>(opened.error());
  for (const base::Message& note : opened->notes) std::cerr << "yardwright: " << base::text(note) << '\n';
  return std::move(opened->yard);
}

int writeOut(const std::string& path, const std::string& bytes) {
  if (path == "-") {
    std::cout << bytes << std::flush;
    if (!std::cout) return complain({base::ErrorCode::CannotWrite, {"cannot_write_output", {}}, {}});
    return kClean;
  }
  if (const auto written = file::writeWhole(path, bytes); !written) return complain(written.error());
  return kClean;
}

Checked check(const yard::Yard& yard) {
  Checked checked{assess::assess(yard), {}};
  assess::margins(*checked.assessment);
  checked.report = findings::report(*checked.assessment);
  return checked;
}

}  // namespace yw::command
