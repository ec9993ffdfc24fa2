namespace LiveStems.Engine.Monitor;

/// <summary>The deepest gain reduction of late, held so long that it can be read: one thread adds, any may read, neither waits.</summary>
/// <param name="holdFrames">How long a reduction stays when none as deep follows.</param>
internal sealed class HeldReduction(int holdFrames)
{
    private float heldDb;
    private int framesLeft;

    /// <summary>In decibels, 0 or above.</summary>
    public double Db => Volatile.Read(ref heldDb);

    /// <summary>Audio thread: takes in the deepest reduction of the next frames, in decibels, 0 or above.</summary>
    public void Add(float deepestDb, int frames)
    {
        framesLeft -= frames;
        if (deepestDb >= heldDb || framesLeft <= 0)
        {
            framesLeft = holdFrames;
            Volatile.Write(ref heldDb, deepestDb);
        }
    }

    /// <summary>Holds nothing; not while another thread adds.</summary>
    public void Reset()
    {
        framesLeft = holdFrames;
        Volatile.Write(ref heldDb, 0);
    }
}
