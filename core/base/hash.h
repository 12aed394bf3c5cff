#pragma once
#include <string>
#include <string_view>

namespace yw::base {

/// Lower-case hexadecimal SHA-256 (FIPS 180-4).
std::string sha256(std::string_view bytes);

std::string toBase64(std::string_view bytes);  ///< RFC 4648
/// Empty optional-like: `ok` is false when the text is not base64.
std::string fromBase64(std::string_view text, bool& ok);

}  // namespace yw::base
