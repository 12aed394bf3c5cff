#pragma once
#include <QString>

#include "core/base/number_text.h"

class QComboBox;
class QFormLayout;
class QLineEdit;
class QPushButton;
class QWidget;

namespace yw::ui {

/// The first rows of a dialog that brings a file in: which file, and what its bare numbers are.
struct FileRows {
  QLineEdit* path;
  QPushButton* browse;
  QComboBox* unit;
  base::LengthUnit unitNow() const;
};
/// `name` begins the names of the fields (`import` gives import_path, import_unit); `usual` is chosen.
FileRows addFileRows(QWidget* dialog, QFormLayout& form, const QString& name, base::LengthUnit usual);

}  // namespace yw::ui
