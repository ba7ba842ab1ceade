//! Work on a thread of its own, off the one that draws: orders go in, news come out, and whoever waits for news is woken.

use std::io;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::thread::{self, JoinHandle};

/// A thread that carries out orders one after another.
///
/// Dropping it lets the order in hand and those that wait be done, and waits for none of them.
#[derive(Debug)]
pub struct Worker<Order, News> {
    orders: Sender<Order>,
    news: Receiver<News>,
    thread: JoinHandle<()>,
}

/// What a look for news finds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Heard<News> {
    /// The oldest that was not heard yet.
    Told(News),
    /// There is none yet.
    NothingYet,
    /// There will be none any more: the work broke down, which is a fault of the program.
    Ended,
}

/// Through which the work tells what it has to tell.
pub struct Teller<News> {
    news: Sender<News>,
    /// Goes after the sender, so that whoever is woken by the end finds it.
    wake: Wake,
}

impl<News> Teller<News> {
    /// Tells, and wakes whoever waits; nobody may be listening any more, which is no fault.
    pub fn tell(&self, news: News) {
        if self.news.send(news).is_ok() {
            (self.wake.0)();
        }
    }
}

struct Wake(Box<dyn Fn() + Send>);

impl Drop for Wake {
    fn drop(&mut self) {
        (self.0)();
    }
}

impl<Order: Send + 'static, News: Send + 'static> Worker<Order, News> {
    /// Begins a thread of this name, which does `work` for every order; `wake` is called whenever there are news, and at the end.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn begin(
        name: &str,
        wake: impl Fn() + Send + 'static,
        mut work: impl FnMut(Order, &Teller<News>) + Send + 'static,
    ) -> io::Result<Self> {
        let (orders, taken) = channel::<Order>();
        let (sender, news) = channel();
        let teller = Teller { news: sender, wake: Wake(Box::new(wake)) };
        let all = move || taken.into_iter().for_each(|order| work(order, &teller));
        let thread = thread::Builder::new().name(name.to_owned()).spawn(all)?;
        Ok(Self { orders, news, thread })
    }

    /// Hands in an order; after the work has broken down nothing comes of it, and [`Worker::poll`] says so.
    pub fn order(&self, order: Order) {
        let _broken_down_is_told_by_poll = self.orders.send(order);
    }

    /// Looks for news without waiting.
    pub fn poll(&self) -> Heard<News> {
        match self.news.try_recv() {
            Ok(news) => Heard::Told(news),
            Err(TryRecvError::Empty) => Heard::NothingYet,
            Err(TryRecvError::Disconnected) => Heard::Ended,
        }
    }

    /// Waits for news; nothing when the work has broken down, or when all orders are done and told.
    pub fn wait(&self) -> Option<News> {
        self.news.recv().ok()
    }

    /// Waits until every order is carried out.
    pub fn finish(self) {
        drop(self.orders);
        // A thread that broke down has ended as well.
        drop(self.thread.join());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc;

    #[test]
    fn orders_are_carried_out_one_after_another_and_each_wakes() {
        let (woken, wakes) = mpsc::channel();
        let wake = move || woken.send(()).unwrap_or_default();
        let worker = Worker::begin("doubling", wake, |order: u32, teller| teller.tell(order * 2)).unwrap();
        assert_eq!(worker.poll(), Heard::NothingYet);
        (1..4).for_each(|order| worker.order(order));
        assert_eq!([worker.wait(), worker.wait(), worker.wait()], [Some(2), Some(4), Some(6)]);
        worker.finish();
        assert_eq!(wakes.into_iter().count(), 4, "three news and the end");
    }

    #[test]
    fn work_that_breaks_down_wakes_and_says_so() {
        let (woken, wakes) = mpsc::channel();
        let wake = move || woken.send(()).unwrap_or_default();
        let worker =
            Worker::<(), ()>::begin("breaking", wake, |(), _| std::panic::resume_unwind(Box::new(()))).unwrap();
        worker.order(());
        wakes.recv().unwrap();
        assert_eq!(worker.poll(), Heard::Ended);
        worker.order(());
        assert_eq!(worker.wait(), None);
        worker.finish();
    }

    #[test]
    fn what_was_ordered_is_done_before_it_is_finished() {
        let (done, list) = mpsc::channel();
        let worker =
            Worker::<u32, ()>::begin("listing", || {}, move |order, _| done.send(order).unwrap_or_default()).unwrap();
        (0..100).for_each(|order| worker.order(order));
        worker.finish();
        assert_eq!(list.into_iter().collect::<Vec<_>>(), (0..100).collect::<Vec<_>>());
    }
}
