#pragma once
#include <QDialog>

#include "core/file/import/outlines.h"
#include "ui/dialogs/file_rows.h"
#include "ui/document/document.h"

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QTreeWidget;

namespace yw::ui {

class LengthField;
class OutlinePicture;

/// Brings outlines of house, walks and beds in from an SVG, a DXF or a GeoJSON file: a plan of them, what
/// each or all of a layer are taken for, and their scale, by the file's unit or by two corners whose distance
/// is known. One step; what was taken is selected.
class OutlineDialog : public QDialog {
  Q_OBJECT
 public:
  explicit OutlineDialog(Document& document, QWidget* parent = nullptr);
  void setFile(const QString& path);
  void accept() override;
  const file::Outlines& outlines() const { return read_; }
  double factor() const { return factor_; }

 protected:
  void keyPressEvent(QKeyEvent* event) override;

 private:
  void read();
  void fillTree();
  void chosenChanged();
  void setKind(int index);
  void clickedCorner(base::Point place);
  void refresh();
  std::set<std::size_t> chosen() const;
  double knownLength() const;  ///< between the marked ends as the file has them, m

  Document& document_;
  file::Outlines read_;
  double factor_ = 1.0;
  std::vector<base::Point> ends_;
  bool endsPicked_ = false;
  QString reasonText_;
  FileRows file_;
  QComboBox* kind_;
  QTreeWidget* tree_;
  LengthField* known_;
  OutlinePicture* picture_;
  QLabel *said_, *reason_;
  QPushButton* take_;
};

}  // namespace yw::ui
