// Writes the four sample yards into the folder that is named.
#include <exception>
#include <iostream>

#include "core/file/yard_file.h"
#include "sample-yards/maker.h"

int main(int argc, char** argv) try {
  using namespace yw;
  if (argc != 2) {
    std::cerr << "make-sample-yards FOLDER\n";
    return 2;
  }
  const std::pair<const char*, yard::Yard> all[] = {{"porch-and-lawn.yard", samples::porchAndLawn()},
                                                    {"corner-lot.yard", samples::cornerLot()},
                                                    {"large-grounds.yard", samples::largeGrounds()},
                                                    {"every-prop.yard", samples::everyProp()}};
  for (const auto& [name, yard] : all) {
    const auto saved = file::save(yard, std::filesystem::path(argv[1]) / name);
    if (!saved) {
      std::cerr << base::text(saved.error()) << '\n';
      return 4;
    }
  }
  return 0;
} catch (const std::exception& error) {
  std::cerr << error.what() << '\n';
  return 1;
}
