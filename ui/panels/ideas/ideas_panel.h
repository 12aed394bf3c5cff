#pragma once
#include <QTimer>
#include <QWidget>
#include <atomic>
#include <map>

#include "core/edit/ideas.h"
#include "core/papers/compare.h"
#include "ui/document/document.h"
#include "ui/jobs/background.h"

class QLabel;
class QListWidget;
class QPushButton;

namespace yw::ui {

class TableGrid;
class TableModel;

/// Shows an idea (none: the yard itself) in one step. Where yard and idea disagree it asks whose to keep;
/// what cannot stand is told. False: nothing was changed.
bool showIdeaAsking(Document& document, base::Id idea, QWidget* parent);

/// Ideas: the yard and its named variants, shown one at a time; their figures side by side, computed in the
/// background; and what the chosen one has otherwise.
class IdeasPanel : public QWidget {
  Q_OBJECT
 public:
  explicit IdeasPanel(Document& document, QWidget* parent = nullptr);
  ~IdeasPanel() override;
  /// Asks for a name and makes an idea of what is shown.
  void makeIdea();
  /// Makes it without asking; what is wrong with the name, or nothing.
  QString makeIdea(const QString& name);
  /// The figures now on screen; empty while there is nothing to compare.
  const papers::Table& figures() const;
  const papers::Table& otherwise() const;
  /// Are the figures those of what is shown now?
  bool upToDate() const { return made_ == document_.shownRevision(); }

 protected:
  void showEvent(QShowEvent* event) override;

 private:
  struct Job;
  void buildList();
  void buildTables();
  void refill();
  base::Id chosen() const;
  void put(base::Id idea);
  void rename();
  void drop();
  void adopt();
  void start();
  void take(const std::shared_ptr<Job>& job);
  void showOtherwise();
  void tellState();
  bool commit(const base::Result<edit::Change>& change);

  Document& document_;
  Background background_;
  QTimer quiet_;
  QListWidget* list_;
  QPushButton *make_, *show_, *rename_, *drop_, *adopt_;
  QLabel* said_;
  TableGrid *figuresGrid_, *otherwiseGrid_;
  TableModel *figures_, *otherwise_;
  QLabel* otherwiseHead_;
  std::shared_ptr<Job> job_;
  std::map<base::Id, papers::Side> sides_;  ///< by idea; none: the yard itself
  std::map<base::Id, base::Error> refused_;
  base::Id lastShown_;
  std::int64_t made_ = -1;
};

}  // namespace yw::ui
