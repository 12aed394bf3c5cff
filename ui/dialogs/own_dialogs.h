#pragma once
#include <QDialog>

#include "core/base/number_text.h"
#include "core/file/import/own_lines.h"
#include "core/shapes/shape.h"
#include "ui/dialogs/file_rows.h"
#include "ui/document/document.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace yw::ui {

class StringPicture;
class TypedField;

/// Brings a table of points, an SVG or a DXF drawing in as the lines of an own shape, with a picture of what
/// comes of it before it is taken.
class ImportDialog : public QDialog {
  Q_OBJECT
 public:
  ImportDialog(Document& document, base::Id prop, QWidget* parent = nullptr);
  void setFile(const QString& path);
  void accept() override;

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void read();
  Document& document_;
  base::Id prop_;
  yard::Prop made_;
  bool good_ = false;
  FileRows file_;
  TypedField* pitch_;
  StringPicture* picture_;
  QLabel *said_, *reason_;
  QPushButton* take_;
};

/// The order of an own shape's string: a picture with numbered pixels, changed by dragging, put short, as
/// drawn or turned round. One step.
class OrderDialog : public QDialog {
  Q_OBJECT
 public:
  OrderDialog(Document& document, base::Id prop, QWidget* parent = nullptr);
  void accept() override;
  const std::vector<std::size_t>& order() const { return order_; }

 private:
  void move(std::size_t from, std::size_t to, bool stretch);
  void refresh();
  Document& document_;
  base::Id prop_;
  std::vector<base::Vec3> places_;
  std::vector<std::size_t> line_, order_;  ///< line of each place as drawn
  double reach_ = 0;
  StringPicture* picture_;
  QLabel* said_;
};

}  // namespace yw::ui
