import { isAbort } from './failureOf.ts';

/**
 * Runs one asynchronous task at a time and remembers only the newest request made meanwhile: what a pointer that moves
 * faster than the answers come needs. Answers arrive in the order of the requests.
 */
export class NewestOnly<Request, Answer> {
  private isRunning = false;
  private waiting: { request: Request } | null = null;
  private generation = 0;

  constructor(
    private readonly task: (request: Request) => Promise<Answer>,
    private readonly take: (answer: Answer, request: Request) => void,
    private readonly fail: (error: unknown, request: Request) => void,
  ) {}

  ask(request: Request): void {
    if (this.isRunning) this.waiting = { request };
    else void this.run(request);
  }

  /** Forgets what waits; an answer still under way is not taken. */
  drop(): void {
    this.waiting = null;
    this.generation++;
  }

  private async run(request: Request): Promise<void> {
    this.isRunning = true;
    const { generation } = this;
    try {
      const answer = await this.task(request);
      if (generation === this.generation) this.take(answer, request);
    } catch (error) {
      if (generation === this.generation && !isAbort(error)) this.fail(error, request);
    }
    this.isRunning = false;
    const next = this.waiting;
    this.waiting = null;
    if (next) void this.run(next.request);
  }
}
