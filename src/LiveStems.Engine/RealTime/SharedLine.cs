namespace LiveStems.Engine.RealTime;

/// <summary>
/// Memory that this program and the process of an outside processor share: sound on the way there and back, and values. One
/// thread on each side; neither ever waits for the other, all hangs on counters that only one side writes.
/// </summary>
/// <remarks>
/// Every counter has a cache line of its own. Sound lies at its frame number modulo the capacity, so a frame that comes late is
/// passed over and never taken for another. Commands carry the frame before which they hold.
/// </remarks>
internal sealed unsafe class SharedLine : IDisposable
{
    /// <summary>The command that sets the processor back as if from silence; 0 and above is the parameter of that index.</summary>
    public const int ResetCommand = -1;

    private const int Mark = 0x4C53_0001;
    private const int CommandCapacity = 1024;
    private const int CommandBytes = 24;
    private const int WrittenAt = 64;
    private const int ProcessedAt = 128;
    private const int FillingAt = 192;
    private const int FaultAt = 256;
    private const int ReductionAt = 260;
    private const int CommandsWrittenAt = 320;
    private const int CommandsTakenAt = 384;
    private const int CommandsAt = 512;
    private const int SoundAt = CommandsAt + CommandCapacity * CommandBytes;

    private readonly IDisposable memory;
    private readonly byte* start;
    private readonly int mask;

    /// <summary>Over memory that both sides map.</summary>
    /// <param name="start">Where it begins.</param>
    /// <param name="bytes">Its length.</param>
    /// <param name="memory">Is disposed of together with this.</param>
    /// <param name="capacity">Frames it is to hold, a power of two, for memory that is new; otherwise 0.</param>
    /// <param name="channels">Channels on the way there, for memory that is new.</param>
    public SharedLine(nint start, long bytes, IDisposable memory, int capacity = 0, int channels = 0)
    {
        this.memory = memory;
        this.start = (byte*)start;
        if (capacity > 0)
        {
            Whole(0) = Mark;
            Whole(4) = capacity;
            Whole(8) = channels;
        }

        IsWhole = Whole(0) == Mark && Whole(4) is > 0 and <= 1 << 22 && Whole(8) is 2 or 4 && bytes >= BytesFor(Whole(4), Whole(8));
        Capacity = IsWhole ? Whole(4) : 1;
        Channels = IsWhole ? Whole(8) : 2;
        mask = Capacity - 1;
    }

    /// <summary>False when what was opened is no such memory.</summary>
    public bool IsWhole { get; }

    /// <summary>Frames it holds on the way in either direction; a power of two.</summary>
    public int Capacity { get; }

    /// <summary>Channels on the way there: 2, or 4 with a key.</summary>
    public int Channels { get; }

    /// <summary>Frames handed over; the program counts.</summary>
    public ref long Written => ref Count(WrittenAt);

    /// <summary>Frames that are back; the processor's process counts.</summary>
    public ref long Processed => ref Count(ProcessedAt);

    /// <summary>Number of the filling under way; a process begins when its own number stands here.</summary>
    public ref long Filling => ref Count(FillingAt);

    /// <summary>The number of a <see cref="ProcessorFault"/> once the processor has broken a rule.</summary>
    public ref int Fault => ref Whole(FaultAt);

    /// <summary>Gain reduction of the frames that came back last, in dB.</summary>
    public ref float ReductionDb => ref *(float*)(start + ReductionAt);

    /// <summary>Bytes that so many frames take, both ways and all.</summary>
    public static long BytesFor(int capacity, int channels) => SoundAt + (channels + 2L) * capacity * sizeof(float);

    /// <summary>Program's side, between two processes: nothing has been handed over yet.</summary>
    public void Clear()
    {
        Written = 0;
        Processed = 0;
        Fault = 0;
        ReductionDb = 0;
        Count(CommandsWrittenAt) = 0;
        Count(CommandsTakenAt) = 0;
    }

    /// <summary>Program's side: leaves a command for a frame; false when there is no room.</summary>
    public bool TryCommand(long frame, int what, double value)
    {
        long written = Count(CommandsWrittenAt);
        if (written - Volatile.Read(ref Count(CommandsTakenAt)) >= CommandCapacity)
        {
            return false;
        }

        byte* place = CommandPlace(written);
        *(long*)place = frame;
        *(long*)(place + 8) = what;
        *(double*)(place + 16) = value;
        Volatile.Write(ref Count(CommandsWrittenAt), written + 1);
        return true;
    }

    /// <summary>Processor's side: the next command without taking it; false when there is none.</summary>
    public bool TryPeek(out long frame, out int what, out double value)
    {
        long taken = Count(CommandsTakenAt);
        bool isThere = taken < Volatile.Read(ref Count(CommandsWrittenAt));
        byte* place = CommandPlace(taken);
        frame = isThere ? *(long*)place : long.MaxValue;
        what = isThere ? (int)*(long*)(place + 8) : 0;
        value = isThere ? *(double*)(place + 16) : 0;
        return isThere;
    }

    /// <summary>Processor's side: the command that was looked at is done.</summary>
    public void TakeCommand() => Volatile.Write(ref Count(CommandsTakenAt), Count(CommandsTakenAt) + 1);

    /// <summary>Copies sound into the way there; channels 0 to 3.</summary>
    public void Put(int channel, long frame, ReadOnlySpan<float> sound)
    {
        int first = Math.Min(sound.Length, Capacity - ((int)frame & mask));
        sound[..first].CopyTo(Lane(channel).Slice((int)frame & mask, first));
        sound[first..].CopyTo(Lane(channel));
    }

    /// <summary>Copies sound out of the way there; channels 0 to 3.</summary>
    public void Get(int channel, long frame, Span<float> sound)
    {
        int first = Math.Min(sound.Length, Capacity - ((int)frame & mask));
        Lane(channel).Slice((int)frame & mask, first).CopyTo(sound);
        Lane(channel)[..(sound.Length - first)].CopyTo(sound[first..]);
    }

    /// <summary>Copies sound into the way back; side 0 or 1.</summary>
    public void PutBack(int side, long frame, ReadOnlySpan<float> sound) => Put(Channels + side, frame, sound);

    /// <summary>Copies sound out of the way back; side 0 or 1.</summary>
    public void GetBack(int side, long frame, Span<float> sound) => Get(Channels + side, frame, sound);

    public void Dispose() => memory.Dispose();

    private Span<float> Lane(int lane) => new(start + SoundAt + (long)lane * Capacity * sizeof(float), Capacity);

    private byte* CommandPlace(long number) => start + CommandsAt + number % CommandCapacity * CommandBytes;

    private ref long Count(int at) => ref *(long*)(start + at);

    private ref int Whole(int at) => ref *(int*)(start + at);
}
