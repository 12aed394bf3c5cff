#pragma once
#include <QString>
#include <optional>

class QWidget;

namespace yw::ui {

/// Asks why `what` is left as it is. A reason is needed; nothing when the person thinks better of it.
std::optional<QString> askReason(QWidget* parent, const QString& what);

}  // namespace yw::ui
