#pragma once
// What the members of records are made of, for code that walks them through fields().
#include <map>
#include <string>
#include <type_traits>
#include <vector>

#include "core/yard/records.h"

namespace yw::yard {

template <class T>
struct IsExact : std::false_type {};
template <class Tag>
struct IsExact<base::Exact<Tag>> : std::true_type {};

template <class T>
struct IsList : std::false_type {};
template <class T>
struct IsList<std::vector<T>> : std::true_type {};

template <class T>
struct IsMap : std::false_type {};
template <class V>
struct IsMap<std::map<std::string, V>> : std::true_type {};

/// A struct that lists fields of its own.
template <class T>
inline constexpr bool kIsNested =
    std::is_class_v<T> && !IsExact<T>::value && !IsList<T>::value && !IsMap<T>::value &&
    !std::is_same_v<T, std::string> && !std::is_same_v<T, Id> && !std::is_same_v<T, Point>;

/// No stored number is larger than this either way: 2^53 - 1, the largest that every JSON reader keeps whole
/// (RFC 8259, section 6), and small enough that sums of two never overflow.
inline constexpr std::int64_t kLargestNumber = 9'007'199'254'740'991;

inline std::int64_t leastOf(const Field& field) { return std::max(field.least, -kLargestNumber); }
inline std::int64_t mostOf(const Field& field) { return std::min(field.most, kLargestNumber); }

}  // namespace yw::yard
